/** A bit as the stock model sees it: millimetres, defaults filled in. */
export interface Bit {
  readonly number: number
  readonly name: string
  readonly shape: 'flat' | 'ball' | 'bowl' | 'vee' | 'taper'
  /** Cutting diameter at its widest. */
  readonly diameter: number
  /** bowl: radius between flat end and side; otherwise 0. */
  readonly cornerRadius: number
  /** vee, taper: included angle, degrees; otherwise 0. */
  readonly angle: number
  /** vee: diameter of the flat at the tip; taper: twice the tip radius; otherwise 0. */
  readonly tipDiameter: number
  readonly spiral: 'up' | 'down' | 'straight' | 'compression'
  readonly flutes: number
  readonly cuttingLength: number
  readonly stickout: number
  readonly shankDiameter: number
  readonly colletDiameter: number
  readonly centreCutting: boolean
  /** Degrees. */
  readonly maxRampAngle: number
  readonly maxPassDepth: number
  /** mm per tooth: [least, most]. */
  readonly chipLoad: readonly [number, number]
  /** Whether the sheet declared the chip load; the low side is judged only then. */
  readonly chipLoadDeclared: boolean
  /** rev/min; Infinity where not given. */
  readonly maxSpeed: number
  /** mm/min of the Z component. */
  readonly maxPlungeFeed: number
}
