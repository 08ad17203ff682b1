import type { Writer } from '../../../samples/make/writer.ts'
import { type Design, lyingSize, SPEED, type Step, zeroFor } from './design.ts'
import { HIGH, PLUG_BLANK } from './places.ts'
import { ShiftedWriter } from './shiftedWriter.ts'

const BITS = { fine: 1, cavity: 2, surfacing: 3, outer: 4, roughing: 5, vee: 6, taper: 7, drill: 8 }

/** Begins a program for the plug's blank or a step of the dish, `z` the height of the zero over the face. */
export function start(design: Design, what: string, bit: keyof typeof BITS, step: Step | 'plug', z: number): Writer {
  const size = step === 'plug' ? ([PLUG_BLANK, PLUG_BLANK] as const) : ([design.width, design.depth] as const)
  const spin = step === 'plug' ? 0 : design.spins[step]
  const zero = zeroFor(design, step === 'plug' ? size : lyingSize(design, step))
  const writer = new ShiftedWriter(design.units.programs, { size, spin, zero: { ...zero, z } })
  writer.say(`(a small dish: ${what})`, '', `${design.units.programs === 'mm' ? 'G21' : 'G20'} G90 G17 G94`)
  if (design.changer) changeTo(writer, design, bit)
  else turnOn(writer, design, bit)
  writer.rapid({ z: HIGH })
  return writer
}

export function changeTo(writer: Writer, design: Design, bit: keyof typeof BITS): void {
  writer.say(`T${BITS[bit]} M6`)
  if (design.extras?.lengths) writer.say(`G43 H${BITS[bit]}`)
  turnOn(writer, design, bit)
}

function turnOn(writer: Writer, design: Design, bit: keyof typeof BITS): void {
  writer.say(design.manual ? 'M3' : `M3 S${SPEED[bit]}`, 'G4 P4')
}
