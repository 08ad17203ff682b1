import { bitDeclaration } from '../../job/reading/declarations.ts'
import type { WrittenBit } from '../../job/reading/schemaBits.ts'
import type { ProgramSetup } from '../../job/sheet.ts'
import type { Comment, Program } from '../../machine/program.ts'

/** What a program says of itself in its name and in the comments near its top, as far as words go. */
export interface Told {
  readonly makes: ProgramSetup['makes']
  /** The face that lies up; undefined where nothing is said of it. */
  readonly face?: 'top' | 'underside'
  readonly turn?: 'endways'
  readonly zeroOnBed: boolean
  readonly resin: boolean
}

/** Comments further down speak of single cuts. */
const NEAR_TOP = 40

/** Words for what a program makes, as people name their files and head their programs (common practice, no source). */
const makesWords: readonly (readonly [ProgramSetup['makes'], RegExp])[] = [
  ['plug', /\bplugs?\b/i],
  ['pocket', /\b(pockets?|recess)\b/i],
  ['level', /\b(level(l?ing)?|flatten(ing)?|surfac(e|ing)|skim)\b/i],
  ['cavity', /\b(cavity|bowl(?!\s+bit)|hollow(ing)?)\b/i],
  ['outline', /\b(outline|profile|perimeter|cut[ -]?out)\b/i],
]

export function toldBy(name: string, program: Program): Told {
  const stem = name.replace(/\.[^.]*$/, '').replaceAll(/[_\d-]+/g, ' ')
  const comments = topComments(program).map(({ text }) => text)
  const said = comments.filter(text => !bitWords.test(text)).join('. ')
  // The name decides; a comment may speak of the plug where the pocket is cut, so there the first word counts.
  const makes = firstOf(stem) ?? firstOf(said) ?? 'other'
  const underside = /\bunderside\b[^.,;]{0,12}\bup\b/i.test(said)
  const top = /\b(top|best)\b[^.,;]{0,12}\bup\b/i.test(said)
  return {
    makes,
    ...(underside === top ? {} : { face: underside ? 'underside' : 'top' }),
    ...(/\bendways\b/i.test(said) ? { turn: 'endways' } : {}),
    zeroOnBed: /\bz\s*0?\b[^.,;]{0,12}\b(table|bed|spoil\s?board)\b/i.test(said),
    resin: /\b(resin|epoxy)\b/i.test(`${stem} ${said}`),
  }
}

function firstOf(text: string): ProgramSetup['makes'] | undefined {
  const found = makesWords.flatMap(([makes, words]) => {
    const match = words.exec(text)
    return match ? [{ makes, at: match.index }] : []
  })
  return found.sort((a, b) => a.at - b.at)[0]?.makes
}

/** A bit as a program names it: by number, by a comment, or both. Lengths in mm. */
export interface ToldBit {
  /** The T number; undefined where the program names none. */
  readonly number?: number
  /** What its comment says; undefined where there is none that speaks of a bit. */
  readonly bit?: WrittenBit
}

/** The bits of a program, in the order in which they are used; one at least. */
export function bitsTold(program: Program): ToldBit[] {
  const comments = topComments(program)
  const declared = new Map<number, WrittenBit>()
  for (const { text } of comments) {
    const found = bitDeclaration(text)
    if (found && 'bit' in found) declared.set(found.number, found.bit)
  }
  const said = comments.flatMap(({ text }) => bitOf(text) ?? [])
  const tools = new Map<number, WrittenBit | undefined>()
  for (const { tool, toolWord } of program.states) {
    if (tool === undefined || tools.has(tool) || !Number.isInteger(tool) || tool < 0 || tool > 99_999) continue
    const beside = program.comments.find(({ span }) => span.line === toolWord?.line)
    tools.set(tool, declared.get(tool) ?? (beside && bitOf(beside.text)))
  }
  if (tools.size === 0) {
    const [only] = declared
    return only ? [{ number: only[0], bit: only[1] }] : [{ bit: said[0] }]
  }
  return [...tools].map(([number, bit]) => ({ number, bit: bit ?? (tools.size === 1 ? said[0] : undefined) }))
}

const bitWords = /\b(bit|cutter|end\s?mill|ball\s?nose|up-?cut|down-?cut|compression|surfacing|v-?bit|vee|tapered)\b/i
const LENGTH = String.raw`(?:(\d+)-)?(\d+(?:\.\d+)?|\.\d+)(?:\/(\d+))?\s*(mm|in\b|inch|")`

/** A bit out of a comment like "6 mm up-cut" or "1-1/8 in bowl bit, 1/4 in corner radius"; undefined for any other. */
function bitOf(text: string): WrittenBit | undefined {
  if (!bitWords.test(text)) return undefined
  const [diameter, radius] = [...text.matchAll(new RegExp(LENGTH, 'gi'))].map(lengthOf)
  if (diameter === undefined || !(diameter > 0 && diameter <= 200)) return undefined
  const shape = shapeOf(text)
  const spiral = /\bup-?cut\b/i.test(text) ? 'up' : /\bdown-?cut\b/i.test(text) ? 'down' : undefined
  const corner = Math.min(/corner radius/i.test(text) && radius !== undefined ? radius : 2, diameter / 2)
  const name = text
    .slice(text.lastIndexOf(':') + 1)
    .split(',')[0]
    .trim()
  return {
    name: name.slice(0, 60),
    shape,
    diameter,
    ...(shape === 'bowl' && corner > 0 ? { cornerRadius: corner } : {}),
    ...((shape === 'vee' || shape === 'taper') && diameter <= 0.5 ? { tipDiameter: 0 } : {}),
    ...(spiral ? { spiral } : {}),
  }
}

function lengthOf([, whole, number, under, unit]: RegExpMatchArray): number {
  const value = Number(whole ?? 0) + Number(number) / Number(under ?? 1)
  return Math.round(value * (unit.toLowerCase() === 'mm' ? 1 : 25.4) * 1e4) / 1e4
}

function shapeOf(text: string): WrittenBit['shape'] {
  if (/\bbowl\b/i.test(text)) return 'bowl'
  if (/\btaper(ed)?\b/i.test(text)) return 'taper'
  if (/\bball\b/i.test(text)) return 'ball'
  return /\b(v-?bit|vee)\b/i.test(text) ? 'vee' : 'flat'
}

function topComments({ comments }: Program): Comment[] {
  return comments.filter(({ span }) => span.line < NEAR_TOP)
}
