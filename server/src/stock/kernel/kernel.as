// The stock kernel in AssemblyScript: what `cut.ts` and `holder.ts` do, four columns at a time. It is compiled by
// .build/kernel.mjs into wasm.ts; tests hold it to its TypeScript twin.
//
// Heights lie block by block (16 x 16 cells, 1 KiB), in a block tile by tile (4 x 4 cells, one cache line), in a tile
// row by row: a bit's footprint is then few cache lines, a tile's highest point tells whether it need be looked into,
// and a block is one run of memory to keep a state by.

const TOLERANCE: f32 = 0.02
const THINNEST: f32 = 1e-4
const EMPTY: f32 = -1e9
const UNIT: f64 = 1048576 // volumes add up in whole parts of 2^-20 mm, so that they add up alike in any order
const FARTHEST: f64 = 10000
const FINENESS: f64 = 0.03125 // to which it is told where a column is first met, of a cell

// Bits of a motion's flags.
const CUTS: i32 = 1
const UNDER_AXIS: i32 = 2
const SHANK: i32 = 8
const COLLET: i32 = 16

// Where things lie in memory; set by `layout`.
let HI: usize = 0
let LO: usize = 0
let POPPED: usize = 0
let DEEPER: usize = 0 // hi and lo of the layers below the top: layer by layer, hi then lo
let TILES: usize = 0
let BLOCKS: usize = 0
let DIRTY: usize = 0
let CUTTERS: usize = 0
let CHORDS: usize = 0
let OUT: usize = 0
let BINS: usize = 0
let STAGE: usize = 0 // heights in rows of cells, on their way in or out

let blocksX: i32 = 0
let blocksY: i32 = 0
let layers: i32 = 1
let cell: f64 = 0
let width: f64 = 0
let depth: f64 = 0
let top: f32 = 0

// Which blocks are worked on: a window, and in it every strip of block rows that is this worker's.
let windowI0: i32 = 0
let windowJ0: i32 = 0
let windowI1: i32 = 0
let windowJ1: i32 = 0
let workers: i32 = 1
let worker: i32 = 0
let strip: i32 = 2
let tallying: bool = true
let wentThrough: i32 = 0

export function layout(base: usize, bx: i32, by: i32, layerCount: i32, cutters: i32, chords: i32, motions: i32, bins: i32, side: f64): usize {
  blocksX = bx
  blocksY = by
  layers = layerCount
  cell = side
  width = side * 16 * <f64>bx
  depth = side * 16 * <f64>by
  const blocks: usize = <usize>bx * <usize>by
  const cells: usize = blocks << 8
  HI = (base + 15) & ~15
  LO = HI + (cells << 2)
  DEEPER = LO + (cells << 2)
  TILES = DEEPER + ((cells << 3) * <usize>(layerCount - 1))
  BLOCKS = TILES + (blocks << 6)
  CUTTERS = (BLOCKS + (blocks << 2) + 15) & ~15
  CHORDS = CUTTERS + <usize>cutters * 128
  OUT = CHORDS + <usize>chords * 128
  BINS = OUT + <usize>motions * 48
  POPPED = BINS + (<usize>bins << 3)
  DIRTY = POPPED + cells
  STAGE = (DIRTY + blocks + 15) & ~15
  const end = STAGE + (cells << 2)
  const pages = <i32>((end + 65535) >> 16)
  const have = memory.size()
  if (pages > have && memory.grow(pages - have) < 0) return 0
  window(0, 0, bx, by)
  workers = 1
  worker = 0
  return end
}

export function at(what: i32): usize {
  if (what == 0) return HI
  if (what == 1) return LO
  if (what == 2) return DEEPER
  if (what == 3) return CUTTERS
  if (what == 4) return CHORDS
  if (what == 5) return OUT
  if (what == 6) return BINS
  if (what == 7) return POPPED
  if (what == 8) return DIRTY
  if (what == 9) return STAGE
  return 0
}

export function window(i0: i32, j0: i32, i1: i32, j1: i32): void {
  windowI0 = i0
  windowJ0 = j0
  windowI1 = i1
  windowJ1 = j1
}

/** `rows`: rows of blocks in a strip. */
export function share(count: i32, mine: i32, rows: i32): void {
  workers = count
  worker = mine
  strip = rows
}

export function tally(on: i32): void {
  tallying = on != 0
}

/** Lays `ny` staged rows of `nx` cells down as blocks; what of the blocks lies beyond them is empty. */
export function fromRows(into: usize, nx: i32, ny: i32): void {
  for (let j = 0; j < blocksY << 4; j++) {
    const row = into + (<usize>((j >> 4) * blocksX) << 10) + (<usize>((j >> 2) & 3) << 8) + (<usize>(j & 3) << 4)
    const from = STAGE + (<usize>(j * nx) << 2)
    for (let i = 0; i < blocksX << 4; i += 4) {
      const to = row + (<usize>(i >> 4) << 10) + (<usize>((i >> 2) & 3) << 6)
      if (j < ny && i + 4 <= nx) {
        v128.store(to, v128.load(from + (<usize>i << 2)))
        continue
      }
      for (let k = 0; k < 4; k++) {
        store<f32>(to + (<usize>k << 2), j < ny && i + k < nx ? load<f32>(from + (<usize>(i + k) << 2)) : EMPTY)
      }
    }
  }
}

/** Whether any column was cut through since this was asked last. */
export function through(): i32 {
  const was = wentThrough
  wentThrough = 0
  return was
}

/** Works out the highest points of blocks [from, to) anew; call after heights were written from outside. */
export function measure(from: i32, to: i32): void {
  for (let b = from; b < to; b++) {
    let blockTop = EMPTY
    for (let t = 0; t < 16; t++) {
      const p = HI + (<usize>b << 10) + (<usize>t << 6)
      let v = f32x4.pmax(f32x4.pmax(v128.load(p), v128.load(p, 16)), f32x4.pmax(v128.load(p, 32), v128.load(p, 48)))
      const tileTop = hmax(v)
      store<f32>(TILES + (<usize>b << 6) + (<usize>t << 2), tileTop)
      blockTop = max(blockTop, tileTop)
    }
    store<f32>(BLOCKS + (<usize>b << 2), blockTop)
  }
}

/** Works out the highest point in the window; nothing grows while cutting, so that it is a bound until the next time. */
export function crown(): void {
  top = EMPTY
  for (let j = windowJ0; j < windowJ1; j++) {
    for (let i = windowI0; i < windowI1; i++) top = max(top, load<f32>(BLOCKS + (<usize>(j * blocksX + i) << 2)))
  }
}

// @ts-ignore: decorator
@inline
function hmax(v: v128): f32 {
  return max(max(f32x4.extract_lane(v, 0), f32x4.extract_lane(v, 1)), max(f32x4.extract_lane(v, 2), f32x4.extract_lane(v, 3)))
}
// @ts-ignore: decorator
@inline
function hmin(v: v128): f32 {
  return min(min(f32x4.extract_lane(v, 0), f32x4.extract_lane(v, 1)), min(f32x4.extract_lane(v, 2), f32x4.extract_lane(v, 3)))
}
// @ts-ignore: decorator
@inline
function hsum(v: v128): f64 {
  return <f64>f32x4.extract_lane(v, 0) + <f64>f32x4.extract_lane(v, 1) + <f64>f32x4.extract_lane(v, 2) + <f64>f32x4.extract_lane(v, 3)
}

// The bit.
let kind: i32 = 0 // 0 flat, 1 ball, 2 vee, 3 bowl, 4 taper
let rim: f64 = 0
let flat: f64 = 0
let corner: f64 = 0
let arcEnd: f64 = 0
let arcTop: f64 = 0
let slope: f64 = 0
let rimTop: f64 = 0
let shankRadius: f64 = 0
let shankAbove: f64 = 0
let colletRadius: f64 = 0
let colletAbove: f64 = 0

// The chord.
let x0: f64 = 0
let y0: f64 = 0
let z0: f64 = 0
let z1: f64 = 0
let run_: f64 = 0
let tx: f64 = 0
let ty: f64 = 0
let rise: f64 = 0
let steep: bool = false
// How far cells reach beyond a tile's centre along and across the move, and where that centre is.
let tileReach: f64 = 0
let tileAlong: f64 = 0
let tileAcross: f64 = 0
let tileHigh: f32 = 0
// Lowest of the tip on the chord, in single precision, as the columns are cut.
let floor32: f32 = 0
let shareFrom: f64 = 0
let shareOf: f64 = 0
let out: usize = 0
let bins: usize = 0
let binCount: i32 = 1
let bestFirst: f64 = 0
// The same in single precision, and what the slope makes of the profile.
let g: f32 = 0 // rise / sqrt(1 + rise²), its size
let coneShift: f32 = 0 // rise / sqrt(slope² - rise²), its size; unused where the rise outdoes the slope
let overSlope: bool = false

function underside(r: f64): f64 {
  if (r <= flat) return 0
  if (r <= arcEnd) {
    const o = r - flat
    return corner - Math.sqrt(Math.max(0, corner * corner - o * o))
  }
  return arcTop + (r - arcEnd) * slope
}

function radiusAt(h: f64): f64 {
  if (h >= rimTop) return rim
  if (h < 0) return -1
  if (h <= arcTop) {
    if (corner == 0) return flat
    const down = corner - h
    return Math.min(arcEnd, flat + Math.sqrt(Math.max(0, corner * corner - down * down)))
  }
  return Math.min(rim, arcEnd + (h - arcTop) / slope)
}

function takeCutter(index: i32): void {
  const p = CUTTERS + <usize>index * 128
  kind = <i32>load<f64>(p)
  rim = load<f64>(p, 8)
  flat = load<f64>(p, 16)
  corner = load<f64>(p, 24)
  arcEnd = load<f64>(p, 32)
  arcTop = load<f64>(p, 40)
  slope = load<f64>(p, 48)
  rimTop = load<f64>(p, 56)
  shankRadius = load<f64>(p, 64)
  shankAbove = load<f64>(p, 72)
  colletRadius = load<f64>(p, 80)
  colletAbove = load<f64>(p, 88)
}

/** Cuts chords [0, count) that the host has laid down. */
export function run(count: i32): void {
  let cutter = -1
  for (let k = 0; k < count; k++) {
    const p = CHORDS + <usize>k * 128
    const c = load<i32>(p, 64)
    if (c != cutter) takeCutter((cutter = c))
    out = OUT + <usize>load<i32>(p, 68) * 48
    bins = BINS + (<usize>load<i32>(p, 72) << 3)
    binCount = load<i32>(p, 76)
    const flags = load<i32>(p, 80)
    if (flags & 4) open()
    if (flags & 1) look(load<f64>(p, 88), load<f64>(p, 96))
    chord(p, (flags & 2) != 0)
  }
}

/** An empty entry for a motion. */
function open(): void {
  store<f64>(out, 0)
  store<f64>(out, 0, 8)
  store<f32>(out, 0, 16)
  store<f32>(out, Infinity, 20)
  store<f32>(out, Infinity, 24)
  store<i32>(out, 0, 28)
  store<f32>(out, EMPTY, 32)
  store<f32>(out, 0, 36)
  for (let b = 0; b < binCount; b++) {
    store<f32>(bins + (<usize>b << 3), Infinity)
    store<f32>(bins + (<usize>b << 3), -Infinity, 4)
  }
}

function cellAt(i: i32, j: i32): usize {
  const block: usize = <usize>((j >> 4) * blocksX + (i >> 4))
  return (block << 8) + <usize>((((j >> 2) & 3) << 6) | (((i >> 2) & 3) << 4) | ((j & 3) << 2) | (i & 3))
}

// @ts-ignore: decorator
@inline
function mine(bj: i32): bool {
  return workers == 1 || ((bj / strip) % workers) == worker
}

/** Notes the surface under a motion's end, before it. */
function look(x: f64, y: f64): void {
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  if (!(i >= 0 && j >= 0 && i < <f64>(blocksX << 4) && j < <f64>(blocksY << 4))) return
  const bj = <i32>j >> 4
  if (!mine(bj)) return
  store<f32>(out, load<f32>(HI + (cellAt(<i32>i, <i32>j) << 2)), 32)
}

// What clipping leaves of the way: globals, for two results.
let clipFrom: f64 = 0
let clipTo: f64 = 0
function clipAxis(a: f64, b: f64, low: f64, high: f64): bool {
  const d = b - a
  if (d == 0) return a >= low && a <= high
  const t0 = (low - a) / d
  const t1 = (high - a) / d
  clipFrom = Math.max(clipFrom, Math.min(t0, t1))
  clipTo = Math.min(clipTo, Math.max(t0, t1))
  return clipFrom <= clipTo
}

function chord(p: usize, continues: bool): void {
  const ax = load<f64>(p)
  const ay = load<f64>(p, 8)
  const az = load<f64>(p, 16)
  const bx = load<f64>(p, 24)
  const by = load<f64>(p, 32)
  const bz = load<f64>(p, 40)
  clipFrom = 0
  clipTo = 1
  if (!clipAxis(ax, bx, -rim, width + rim) || !clipAxis(ay, by, -rim, depth + rim) || !clipAxis(az, bz, -FARTHEST, FARTHEST)) return
  const from = clipFrom
  const to = clipTo
  x0 = from == 0 ? ax : ax + (bx - ax) * from
  y0 = from == 0 ? ay : ay + (by - ay) * from
  z0 = from == 0 ? az : az + (bz - az) * from
  const x1 = to == 1 ? bx : ax + (bx - ax) * to
  const y1 = to == 1 ? by : ay + (by - ay) * to
  z1 = to == 1 ? bz : az + (bz - az) * to
  const lowest = Math.min(z0, z1)
  if (lowest >= <f64>top) return
  const wholeShare = load<f64>(p, 56)
  shareFrom = load<f64>(p, 48) + wholeShare * from
  shareOf = wholeShare * (to - from)
  const dx = x1 - x0
  const dy = y1 - y0
  run_ = Math.sqrt(dx * dx + dy * dy)
  if (run_ < 1e-6) {
    run_ = 0
    tx = 1
    ty = 0
    rise = 0
  } else {
    tx = dx / run_
    ty = dy / run_
    rise = (z1 - z0) / run_
    // So slight a rise is level to a hundredth of a micrometre, and would be lost in single precision.
    if (Math.abs(rise) < 1e-7 && Math.abs(z1 - z0) < 1e-5) {
      rise = 0
      z0 = z1 = lowest
    }
  }
  steep = z0 - z1 > run_
  const m = Math.abs(rise)
  g = <f32>(m / Math.sqrt(1 + m * m))
  overSlope = m >= slope
  coneShift = overSlope ? 0 : <f32>(m / Math.sqrt(slope * slope - m * m))
  bestFirst = load<f32>(out, 24) < Infinity ? -1 : Infinity
  // Of a move that continues the last one with the same bit, what lies behind its start is cut already. On the way
  // down the lowest place lies ahead of the point, by at most this.
  let ahead: f64 = 0
  if (rise < 0) {
    // A ball may be wider than the bit: a taper narrower than its own tip.
    if (kind == 1) ahead = Math.min(rim, <f64>g * corner)
    else if (kind == 3) ahead = flat + <f64>g * corner
    else if (kind == 2 && !overSlope) {
      const c = <f64>coneShift
      ahead = Math.max(flat, (rim * c) / Math.sqrt(1 + c * c))
    } else ahead = rim
  }
  sweepBlocks(lowest, x1, y1, continues && from == 0 && run_ > 0, ahead)
  if (shankRadius > 0 && lowest + shankAbove + <f64>TOLERANCE < <f64>top) {
    if (discMeets(lowest, x1, y1, shankRadius, shankAbove)) store<i32>(out, load<i32>(out, 28) | SHANK, 28)
  }
  if (colletRadius > 0 && lowest + colletAbove + <f64>TOLERANCE < <f64>top) {
    if (discMeets(lowest, x1, y1, colletRadius, colletAbove)) store<i32>(out, load<i32>(out, 28) | COLLET, 28)
  }
}

function blockIndex(x: f64, first: i32, last: i32): i32 {
  return <i32>Math.min(<f64>last, Math.max(<f64>first, Math.floor(x / (cell * 16))))
}

function sweepBlocks(lowest: f64, x1: f64, y1: f64, behind: bool, ahead: f64): void {
  const side = cell * 16
  const radius = radiusAt(<f64>top - lowest) + cell
  const lowX = Math.min(x0, x1) - radius
  const highX = Math.max(x0, x1) + radius
  const lowY = Math.min(y0, y1) - radius
  const highY = Math.max(y0, y1) + radius
  if (highX < <f64>windowI0 * side || lowX > <f64>windowI1 * side || highY < <f64>windowJ0 * side || lowY > <f64>windowJ1 * side) return
  const i0 = blockIndex(lowX, windowI0, windowI1 - 1)
  const i1 = blockIndex(highX, windowI0, windowI1 - 1)
  const j0 = blockIndex(lowY, windowJ0, windowJ1 - 1)
  const j1 = blockIndex(highY, windowJ0, windowJ1 - 1)
  const halfBlock = side * 0.70710678118654757
  const halfTile = halfBlock * 0.25
  const tileSide = cell * 4
  // In single precision, as the columns are cut: what lies at the very height of the tip is not looked into again.
  floor32 = run_ == 0 ? <f32>lowest : min(<f32>z0, <f32>z0 + <f32>rise * <f32>run_)
  const floor: f64 = <f64>floor32
  tileReach = cell * 1.5 * (Math.abs(tx) + Math.abs(ty))
  const blockReach = cell * 7.5 * (Math.abs(tx) + Math.abs(ty))
  // In the direction of the move, so that the first contact is met early and seldom has to be found again.
  const stepI = tx < 0 ? -1 : 1
  const stepJ = ty < 0 ? -1 : 1
  const beginI = stepI > 0 ? i0 : i1
  const endI = stepI > 0 ? i1 + 1 : i0 - 1
  const endJ = stepJ > 0 ? j1 + 1 : j0 - 1
  for (let bj = stepJ > 0 ? j0 : j1; bj != endJ; bj += stepJ) {
    if (!mine(bj)) continue
    for (let bi = beginI; bi != endI; bi += stepI) {
      const block: usize = <usize>(bj * blocksX + bi)
      const blockTop = <f64>load<f32>(BLOCKS + (block << 2))
      if (blockTop <= floor) continue
      const cx = (<f64>bi + 0.5) * side - x0
      const cy = (<f64>bj + 0.5) * side - y0
      const blockAlong = cx * tx + cy * ty
      if (behind && blockAlong + blockReach + ahead <= 0) continue
      const near = Math.min(run_, Math.max(0, blockAlong))
      const ox = cx - near * tx
      const oy = cy - near * ty
      const room = radiusAt(Math.max(0, blockTop - lowest)) + halfBlock
      if (ox * ox + oy * oy > room * room) continue
      let changed = false
      for (let t = 0; t < 16; t++) {
        const tilePlace = TILES + (block << 6) + (<usize>t << 2)
        const tileTop = <f64>load<f32>(tilePlace)
        if (tileTop <= floor) continue
        const ux = (<f64>((bi << 2) | (t & 3)) + 0.5) * tileSide - x0
        const uy = (<f64>((bj << 2) | (t >> 2)) + 0.5) * tileSide - y0
        const along = ux * tx + uy * ty
        if (behind && along + tileReach + ahead <= 0) continue
        const n = Math.min(run_, Math.max(0, along))
        const vx = ux - n * tx
        const vy = uy - n * ty
        const reach = radiusAt(Math.max(0, tileTop - lowest)) + halfTile
        if (vx * vx + vy * vy > reach * reach) continue
        tileAlong = along
        tileHigh = <f32>tileTop
        tileAcross = uy * tx - ux * ty
        const firstX = <f32>(ux - 1.5 * cell)
        const firstY = <f32>(uy - 1.5 * cell)
        const place = (block << 10) + (<usize>t << 6)
        let newTop: f32
        if (rise == 0) {
          if (kind == 0) newTop = level0(place, firstX, firstY, n)
          else if (kind == 1) newTop = level1(place, firstX, firstY, n)
          else if (kind == 2) newTop = level2(place, firstX, firstY, n)
          else if (kind == 3) newTop = level3(place, firstX, firstY, n)
          else newTop = level4(place, firstX, firstY, n)
        } else {
          if (kind == 0) newTop = ramp0(place, firstX, firstY, n)
          else if (kind == 1) newTop = ramp1(place, firstX, firstY, n)
          else if (kind == 2) newTop = ramp2(place, firstX, firstY, n)
          else if (kind == 3) newTop = ramp3(place, firstX, firstY, n)
          else newTop = ramp4(place, firstX, firstY, n)
        }
        if (newTop < Infinity) {
          store<f32>(tilePlace, newTop)
          changed = true
        }
      }
      if (changed) {
        store<u8>(DIRTY + block, 3)
        const q = TILES + (block << 6)
        store<f32>(
          BLOCKS + (block << 2),
          hmax(f32x4.pmax(f32x4.pmax(v128.load(q), v128.load(q, 16)), f32x4.pmax(v128.load(q, 32), v128.load(q, 48)))),
        )
      }
    }
  }
}

function level0(p: usize, x: f32, y: f32, n: f64): f32 { return tile(0, false, p, x, y, n) }
function level1(p: usize, x: f32, y: f32, n: f64): f32 { return tile(1, false, p, x, y, n) }
function level2(p: usize, x: f32, y: f32, n: f64): f32 { return tile(2, false, p, x, y, n) }
function level3(p: usize, x: f32, y: f32, n: f64): f32 { return tile(3, false, p, x, y, n) }
function level4(p: usize, x: f32, y: f32, n: f64): f32 { return tile(4, false, p, x, y, n) }
function ramp0(p: usize, x: f32, y: f32, n: f64): f32 { return tile(0, true, p, x, y, n) }
function ramp1(p: usize, x: f32, y: f32, n: f64): f32 { return tile(1, true, p, x, y, n) }
function ramp2(p: usize, x: f32, y: f32, n: f64): f32 { return tile(2, true, p, x, y, n) }
function ramp3(p: usize, x: f32, y: f32, n: f64): f32 { return tile(3, true, p, x, y, n) }
function ramp4(p: usize, x: f32, y: f32, n: f64): f32 { return tile(4, true, p, x, y, n) }

// @ts-ignore: decorator
@inline
function all(v: f64): v128 {
  return f32x4.splat(<f32>v)
}

// @ts-ignore: decorator
@inline
function coneOffset(across: v128, a2: v128, reach: v128, edge2: v128): v128 {
  if (overSlope) return reach
  const edge = f32x4.sqrt(f32x4.pmax(f32x4.splat(0), f32x4.sub(edge2, a2)))
  return f32x4.pmax(edge, f32x4.mul(f32x4.abs(across), f32x4.splat(coneShift)))
}

/**
 * Where the corner of a bowl bit is lowest: Newton's steps on the root of what sweep.ts solves, out * sqrt(bend) =
 * rise * corner. That bends so little that three steps leave less than a millionth of a millimetre of height,
 * whatever the bit and the slope.
 */
// @ts-ignore: decorator
@inline
function torusDistance(across: v128): v128 {
  const m = Math.abs(rise)
  const m2 = all(m * m)
  const target = all(m * corner)
  const a = f32x4.abs(across)
  const f = all(flat)
  const low = f32x4.pmax(f, a)
  const high = all(flat + corner)
  let r = f32x4.pmax(a, f32x4.splat(<f32>(flat + <f64>g * corner)))
  for (let k = 0; k < 3; k++) {
    const outside = f32x4.sub(r, f)
    const inverse = f32x4.div(f32x4.splat(1), r)
    const s = f32x4.mul(a, inverse)
    // 1 - s² as a product, so that nothing is lost where the point is as far off as the disc is wide.
    const bend = f32x4.add(m2, f32x4.mul(f32x4.mul(f32x4.sub(r, a), f32x4.add(r, a)), f32x4.mul(inverse, inverse)))
    const root = f32x4.sqrt(f32x4.pmax(bend, f32x4.splat(1e-20)))
    const value = f32x4.sub(f32x4.mul(outside, root), target)
    // value / (root + outside s² / (r root)), with one division.
    const fall = f32x4.add(f32x4.mul(root, root), f32x4.mul(f32x4.mul(outside, inverse), f32x4.mul(s, s)))
    r = f32x4.pmin(high, f32x4.pmax(low, f32x4.sub(r, f32x4.div(f32x4.mul(value, root), fall))))
  }
  return r
}

// @ts-ignore: decorator
@inline
function tile(shape: i32, ramped: bool, place: usize, firstX: f32, firstY: f32, nearest: f64): f32 {
  const zero = f32x4.splat(0)
  const vtx = all(tx)
  const vty = all(ty)
  const length = all(run_)
  const rim2 = all(rim * rim)
  const start = all(z0)
  const vcell = <f32>cell
  // Out of the loop over the rows: the compiler does not take globals out of it by itself.
  const vflat = all(flat)
  const vflat2 = all(flat * flat)
  const vcorner = all(corner)
  const vcorner2 = all(corner * corner)
  const vslope = all(slope)
  const varcEnd = all(arcEnd)
  const varcEnd2 = all(arcEnd * arcEnd)
  const varcTop = all(arcTop)
  const vrise = all(rise)
  const vg = f32x4.splat(g)
  const falls = rise < 0
  const still = run_ == 0
  const levelTip = still ? all(Math.min(z0, z1)) : start
  const vbound = f32x4.splat(<f32>(flat + <f64>g * corner))
  const vsteepest = all(Math.abs(rise) * rim * corner)
  const tolerance = f32x4.splat(TOLERANCE)
  const infinite = f32x4.splat(Infinity)
  const minusInfinite = f32x4.splat(-Infinity)
  const signBit = i32x4.splat(0x80000000)
  const tallies = tallying
  // What of the tallies this tile can still change at all; bounds only, with room for rounding, so that to leave the
  // rest out changes nothing. `side`: 1 and -1 where all of the tile lies left or right of the move.
  let side = 0
  let wantsAxial = false
  let wantsLowest = false
  let wantsWidth = false
  let wantsFirst = false
  let binPlace: usize = bins
  if (tallies) {
    const reach = tileReach + 0.001 * cell
    if (tileAcross > reach) side = 1
    else if (tileAcross < -reach) side = -1
    wantsAxial = tileHigh - floor32 > load<f32>(out, 16)
    wantsLowest = load<f32>(out, 20) > floor32
    if (still) wantsWidth = true
    else {
      const share = shareFrom + (nearest / run_) * shareOf
      binPlace = bins + (<usize>Math.min(<f64>(binCount - 1), Math.max(0, Math.floor(share * <f64>binCount))) << 3)
      wantsWidth = <f64>load<f32>(binPlace) > tileAcross - reach || <f64>load<f32>(binPlace, 4) < tileAcross + reach
    }
    if (bestFirst > 0) {
      const inner = Math.max(0, Math.abs(tileAcross) - reach)
      wantsFirst = still || tileAlong - reach - Math.sqrt(Math.max(0, rim * rim - inner * inner)) < bestFirst
    }
  }
  const wantsPlaces = wantsAxial || wantsLowest || wantsWidth || wantsFirst || steep
  const dx = f32x4.add(f32x4.splat(firstX), f32x4.mul(f32x4.splat(vcell), f32x4(0, 1, 2, 3)))
  let removedSum = zero
  let signedSum = zero
  let axial = zero
  let lowest = f32x4.splat(Infinity)
  let acrossLow = f32x4.splat(Infinity)
  let acrossHigh = f32x4.splat(-Infinity)
  let alongLow = f32x4.splat(Infinity)
  let alongHigh = f32x4.splat(-Infinity)
  let tileTop = f32x4.splat(EMPTY)
  let changed = false
  let deepest = zero
  for (let row = 0; row < 4; row++) {
    const at = place + (<usize>row << 4)
    const old = v128.load(HI + at)
    const dy = f32x4.splat(firstY + <f32>row * vcell)
    const across = f32x4.sub(f32x4.mul(dy, vtx), f32x4.mul(dx, vty))
    const along = f32x4.add(f32x4.mul(dx, vtx), f32x4.mul(dy, vty))
    const a2 = f32x4.mul(across, across)
    const back = f32x4.neg(along)
    const front = f32x4.sub(length, along)
    let off: v128
    let valid: v128
    let r2: v128
    let tip: v128
    if (ramped) {
      const reach2 = f32x4.sub(rim2, a2)
      const reach = f32x4.sqrt(f32x4.pmax(zero, reach2))
      let best: v128
      if (shape == 0) {
        best = reach
      } else if (shape == 1) {
        best = f32x4.mul(vg, f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vcorner2, a2))))
      } else if (shape == 2) {
        best = coneOffset(across, a2, reach, varcEnd2)
      } else if (shape == 3) {
        // Most columns are lowest where the move begins or ends; that takes no more than bounds to see.
        const edge = f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vflat2, a2)))
        const ahead = falls ? along : front
        const bound = f32x4.pmin(vbound, f32x4.div(vsteepest, f32x4.pmax(f32x4.sub(f32x4.abs(across), vflat), f32x4.splat(1e-6))))
        const atEnd = v128.or(f32x4.ge(f32x4.add(ahead, edge), length), f32x4.le(f32x4.add(ahead, bound), zero))
        if (i32x4.all_true(v128.or(atEnd, f32x4.lt(reach2, zero)))) {
          best = edge
        } else {
          const r = torusDistance(across)
          const a = f32x4.abs(across)
          best = f32x4.sqrt(f32x4.pmax(zero, f32x4.mul(f32x4.sub(r, a), f32x4.add(r, a))))
        }
      } else {
        const inBall = f32x4.mul(vg, f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vcorner2, a2))))
        const isBall = f32x4.le(f32x4.add(a2, f32x4.mul(inBall, inBall)), varcEnd2)
        best = v128.bitselect(inBall, coneOffset(across, a2, reach, varcEnd2), isBall)
      }
      best = f32x4.pmin(reach, best)
      if (!falls) best = f32x4.neg(best)
      // Held to the ends of the move as a place, so that at an end a steep move's height is that of the end itself.
      const place = f32x4.pmin(f32x4.pmax(f32x4.add(along, best), zero), length)
      off = f32x4.sub(place, along)
      valid = v128.and(f32x4.ge(reach2, zero), v128.and(f32x4.le(back, reach), f32x4.ge(front, f32x4.neg(reach))))
      r2 = f32x4.pmin(rim2, f32x4.add(a2, f32x4.mul(off, off)))
      tip = f32x4.add(start, f32x4.mul(vrise, place))
    } else {
      off = f32x4.pmin(f32x4.pmax(zero, back), front)
      r2 = f32x4.add(a2, f32x4.mul(off, off))
      valid = f32x4.le(r2, rim2)
      tip = levelTip
    }
    let z: v128
    if (shape == 0) {
      z = tip
    } else if (shape == 1) {
      z = f32x4.add(tip, f32x4.sub(vcorner, f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vcorner2, r2)))))
    } else if (shape == 2) {
      z = f32x4.add(tip, f32x4.pmax(zero, f32x4.mul(f32x4.sub(f32x4.sqrt(r2), vflat), vslope)))
    } else if (shape == 3) {
      const outside = f32x4.pmax(zero, f32x4.sub(f32x4.sqrt(r2), vflat))
      z = f32x4.add(tip, f32x4.sub(vcorner, f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vcorner2, f32x4.mul(outside, outside))))))
    } else {
      const ball = f32x4.sub(vcorner, f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(vcorner2, r2))))
      const r = f32x4.sqrt(r2)
      const cone = f32x4.add(varcTop, f32x4.mul(f32x4.sub(r, varcEnd), vslope))
      z = f32x4.add(tip, v128.bitselect(ball, cone, f32x4.le(r, varcEnd)))
    }
    const cut = v128.and(valid, f32x4.lt(z, old))
    if (!v128.any_true(cut)) {
      tileTop = f32x4.pmax(tileTop, old)
      continue
    }
    changed = true
    const lo = v128.load(LO + at)
    const through = v128.and(cut, f32x4.le(f32x4.sub(z, lo), f32x4.splat(THINNEST)))
    let removed = v128.and(cut, f32x4.sub(old, v128.bitselect(lo, z, through)))
    let now = v128.bitselect(z, old, cut)
    if (v128.any_true(through)) {
      wentThrough = 1
      now = v128.bitselect(f32x4.splat(EMPTY), now, through)
      v128.store(HI + at, now)
      v128.store(LO + at, v128.bitselect(f32x4.splat(EMPTY), lo, through))
      const lanes = i32x4.bitmask(through)
      for (let lane = 0; lane < 4; lane++) if (lanes & (1 << lane)) uncover(at + (<usize>lane << 2), heightOf(z, lane))
      if (layers > 1) {
        now = v128.load(HI + at)
        removed = f32x4.add(removed, deeperRemoved())
      }
    } else {
      v128.store(HI + at, now)
    }
    tileTop = f32x4.pmax(tileTop, now)
    if (!tallies) continue
    removedSum = f32x4.add(removedSum, removed)
    deepest = f32x4.pmax(deepest, removed)
    if (side == 0) {
      const sign = v128.and(across, signBit)
      signedSum = f32x4.add(signedSum, v128.and(f32x4.ne(across, zero), v128.xor(removed, sign)))
    }
    if (!wantsPlaces) continue
    const felt = f32x4.gt(removed, tolerance)
    if (!v128.any_true(felt)) continue
    if (wantsAxial) axial = f32x4.pmax(axial, v128.and(felt, f32x4.sub(old, tip)))
    if (wantsLowest) lowest = f32x4.pmin(lowest, v128.bitselect(tip, infinite, felt))
    if (wantsWidth) {
      acrossLow = f32x4.pmin(acrossLow, v128.bitselect(across, infinite, felt))
      acrossHigh = f32x4.pmax(acrossHigh, v128.bitselect(across, minusInfinite, felt))
    }
    if (still) {
      alongLow = f32x4.pmin(alongLow, v128.bitselect(along, infinite, felt))
      alongHigh = f32x4.pmax(alongHigh, v128.bitselect(along, minusInfinite, felt))
    }
    if (steep) {
      const near = all(0.75 * cell)
      const under = v128.and(v128.and(felt, f32x4.le(f32x4.abs(across), near)), v128.and(f32x4.le(back, near), f32x4.le(f32x4.neg(front), near)))
      if (v128.any_true(under)) store<i32>(out, load<i32>(out, 28) | UNDER_AXIS, 28)
    }
    if (wantsFirst && bestFirst > 0) {
      const reach = f32x4.sqrt(f32x4.pmax(zero, f32x4.sub(rim2, a2)))
      const early = v128.and(felt, f32x4.lt(f32x4.sub(along, reach), f32x4.splat(<f32>bestFirst)))
      if (v128.any_true(early)) {
        const lanes = i32x4.bitmask(early)
        for (let lane = 0; lane < 4; lane++) {
          if (lanes & (1 << lane)) meet(heightOf(across, lane), heightOf(along, lane), heightOf(old, lane), heightOf(off, lane))
        }
      }
    }
  }
  if (!changed) return Infinity
  if (tallies) {
    const whole = Math.round(hsum(removedSum) * UNIT)
    store<f64>(out, load<f64>(out) + whole)
    if (!still) {
      const signed = side == 0 ? Math.round(hsum(signedSum) * UNIT) : side > 0 ? whole : -whole
      store<f64>(out, load<f64>(out, 8) + signed, 8)
    }
    const bite = hmax(deepest)
    if (bite > TOLERANCE) {
      store<i32>(out, load<i32>(out, 28) | CUTS, 28)
      store<f32>(out, max(load<f32>(out, 36), bite), 36)
      if (wantsAxial) store<f32>(out, max(load<f32>(out, 16), hmax(axial)), 16)
      if (wantsLowest) store<f32>(out, min(load<f32>(out, 20), hmin(lowest)), 20)
      if (wantsWidth) widen(binPlace, hmin(acrossLow), hmax(acrossHigh))
      if (still) widen(bins + (<usize>(binCount - 1) << 3), hmin(alongLow), hmax(alongHigh))
    }
  }
  return hmax(tileTop)
}

function widen(p: usize, low: f32, high: f32): void {
  store<f32>(p, min(load<f32>(p), low))
  store<f32>(p, max(load<f32>(p, 4), high), 4)
}

// @ts-ignore: decorator
@inline
function heightOf(v: v128, lane: i32): f32 {
  if (lane == 0) return f32x4.extract_lane(v, 0)
  if (lane == 1) return f32x4.extract_lane(v, 1)
  if (lane == 2) return f32x4.extract_lane(v, 2)
  return f32x4.extract_lane(v, 3)
}

// What `uncover` took from the layers below, by lane of the row; read and cleared by `deeperRemoved`.
let deeper0: f32 = 0
let deeper1: f32 = 0
let deeper2: f32 = 0
let deeper3: f32 = 0

function deeperRemoved(): v128 {
  const v = f32x4.replace_lane(f32x4.replace_lane(f32x4.replace_lane(f32x4.splat(deeper0), 1, deeper1), 2, deeper2), 3, deeper3)
  deeper0 = deeper1 = deeper2 = deeper3 = 0
  return v
}

/** The top interval of a column is gone: the next below takes its place, or goes too where it stands above the cut. */
function uncover(at: usize, height: f32): void {
  const index = at >> 2
  let popped = <i32>load<u8>(POPPED + index) + 1
  let removed: f32 = 0
  const stride: usize = (<usize>blocksX * <usize>blocksY) << 10
  while (popped < layers) {
    const p = DEEPER + (stride << 1) * <usize>(popped - 1) + at
    const hi = load<f32>(p)
    if (hi <= EMPTY) break
    const lo = load<f32>(p + stride)
    if (!(height < hi) || height - lo > THINNEST) {
      if (height < hi) removed += hi - height
      store<f32>(HI + at, min(hi, height))
      store<f32>(LO + at, lo)
      break
    }
    removed += hi - lo
    popped++
  }
  store<u8>(POPPED + index, <u8>popped)
  const lane = <i32>(index & 3)
  if (lane == 0) deeper0 = removed
  else if (lane == 1) deeper1 = removed
  else if (lane == 2) deeper2 = removed
  else deeper3 = removed
}

/** Where the bit first met a column as high as `old`, and at once if soon; see cut.ts. Keeps the motion's earliest. */
function meet(across: f64, along: f64, old: f64, off: f64): void {
  let first: f64
  if (run_ == 0) {
    if (z1 >= z0) first = 0
    else first = Math.max(0, Math.min(1, (z0 + underside(Math.min(rim, Math.sqrt(across * across + along * along))) - old) / (z0 - z1)))
  } else {
    // It is met no earlier than by the bit at its lowest, and no later than by the bit at its highest.
    const a2 = across * across
    const deep = radiusAt(old - Math.min(z0, z1))
    let low = Math.max(0, along - Math.sqrt(Math.max(0, deep * deep - a2)))
    if (low >= bestFirst) return
    // Rounded, the place where it is lowest may lie before the earliest.
    let high = Math.max(low, along + off)
    const shallow = radiusAt(old - Math.max(z0, z1))
    const latest = shallow * shallow - a2
    // A column that lies behind the start by more than that is not met at the start.
    if (shallow > 0 && latest >= 0 && along >= -Math.sqrt(latest)) high = Math.min(high, Math.max(low, along - Math.sqrt(latest)))
    const soon = Math.min(high, 0.5 * cell)
    if (low <= soon && (high <= soon || clearance(across, along, old, soon) <= 0)) high = 0
    else if (bestFirst < high && clearance(across, along, old, bestFirst) >= 0) return
    else {
      while (high - low > FINENESS * cell) {
        const middle = (low + high) / 2
        if (clearance(across, along, old, middle) > 0) low = middle
        else high = middle
      }
    }
    first = high
  }
  if (first >= bestFirst) return
  bestFirst = first
  const share = shareFrom + shareOf * (run_ == 0 ? first : first / run_)
  store<f32>(out, min(load<f32>(out, 24), <f32>share), 24)
}

function clearance(across: f64, along: f64, old: f64, u: f64): f64 {
  const o = u - along
  return z0 + rise * u + underside(Math.min(rim, Math.sqrt(across * across + o * o))) - old
}

/** Whether a disc carried above the tip sweeps into wood; see holder.ts. */
function discMeets(lowest: f64, x1: f64, y1: f64, radius: f64, above: f64): bool {
  const side = cell * 16
  const floor = <f32>(lowest + above + <f64>TOLERANCE)
  const lowX = Math.min(x0, x1) - radius
  const highX = Math.max(x0, x1) + radius
  const lowY = Math.min(y0, y1) - radius
  const highY = Math.max(y0, y1) + radius
  if (highX < <f64>windowI0 * side || lowX > <f64>windowI1 * side || highY < <f64>windowJ0 * side || lowY > <f64>windowJ1 * side) return false
  const i0 = blockIndex(lowX, windowI0, windowI1 - 1)
  const i1 = blockIndex(highX, windowI0, windowI1 - 1)
  const j0 = blockIndex(lowY, windowJ0, windowJ1 - 1)
  const j1 = blockIndex(highY, windowJ0, windowJ1 - 1)
  const halfTile = cell * 2 * 1.4142135623730951
  for (let bj = j0; bj <= j1; bj++) {
    if (!mine(bj)) continue
    for (let bi = i0; bi <= i1; bi++) {
      const block: usize = <usize>(bj * blocksX + bi)
      if (load<f32>(BLOCKS + (block << 2)) <= floor) continue
      for (let t = 0; t < 16; t++) {
        if (load<f32>(TILES + (block << 6) + (<usize>t << 2)) <= floor) continue
        const ux = (<f64>((bi << 2) | (t & 3)) + 0.5) * cell * 4 - x0
        const uy = (<f64>((bj << 2) | (t >> 2)) + 0.5) * cell * 4 - y0
        const n = Math.min(run_, Math.max(0, ux * tx + uy * ty))
        const vx = ux - n * tx
        const vy = uy - n * ty
        if (vx * vx + vy * vy > (radius + halfTile) * (radius + halfTile)) continue
        for (let k = 0; k < 16; k++) {
          const surface = load<f32>(HI + (block << 10) + (<usize>t << 6) + (<usize>k << 2))
          if (surface <= floor) continue
          const dx = ux + (<f64>(k & 3) - 1.5) * cell
          const dy = uy + (<f64>(k >> 2) - 1.5) * cell
          const across = dy * tx - dx * ty
          const reach2 = radius * radius - across * across
          if (reach2 < 0) continue
          const reach = Math.sqrt(reach2)
          const along = dx * tx + dy * ty
          const from = Math.max(0, along - reach)
          const to = Math.min(run_, along + reach)
          if (from > to) continue
          const tip = run_ == 0 ? Math.min(z0, z1) : z0 + rise * (rise > 0 ? from : to)
          if (<f64>surface > tip + above + <f64>TOLERANCE) return true
        }
      }
    }
  }
  return false
}
