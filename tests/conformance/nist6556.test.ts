import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import type { Program } from '../../server/src/machine/program.ts'
import { type ReadOptions, readProgram } from '../../server/src/machine/readProgram.ts'

// NISTIR 6556 (Kramer, Proctor, Messina, 2000): its own programs and worked figures. Every expected number below is
// printed in the report, unless the test says how it was worked out from it.

const file = (name: string): Uint8Array => readFileSync(new URL(`programs/${name}`, import.meta.url))
const read = (text: string, options?: ReadOptions): Program => readProgram(new TextEncoder().encode(text), options)
const ends = (program: Program, scale = 1): number[][] => {
  const { count, x, y, z } = program.motions
  return Array.from({ length: count }, (_, i) => [x[i] / scale, y[i] / scale, z[i] / scale])
}
const near = (found: readonly number[][], expected: readonly number[][], digits = 4): void => {
  expect(found.length).toBe(expected.length)
  expected.forEach((point, i) => {
    point.forEach((value, axis) => {
      expect(found[i][axis], `motion ${i}, axis ${axis}`).toBeCloseTo(value, digits)
    })
  })
}

describe('Appendix C.2: each comment states the X of its line', () => {
  const program = readProgram(file('nist6556-C2-expressions.ngc'))
  const at = new Map<number, number>()
  for (let i = 0; i < program.motions.count; i++) at.set(program.motions.line[i], program.motions.x[i])
  for (let line = 0; line < program.lineCount; line++) {
    const stated = /x should be (-?[\d.]+)/.exec(program.lineText(line))
    const parallel = /so x should be (-?\d)/.exec(program.lineText(line))
    if (!stated) continue
    test(program.lineText(line), () => {
      const expected = Number((parallel ?? stated)[1])
      // The comments round to four places, the arguments to as many.
      expect(Math.abs(at.get(line)! - expected)).toBeLessThan(0.001)
    })
  }
  test('n0460, worked out from its text: 2.000545', () => {
    expect(at.get(45)).toBeCloseTo(2.000545, 6)
  })
  test('n0410: 2 ** 3.0 is 8 exactly', () => {
    expect(at.get(40)).toBe(8)
  })
  test('nothing is wrong with it', () => {
    expect(program.problems).toEqual([])
  })
})

test('3.3.2.3: [2.0 / 3 * 1.5 - 5.5 / 11.0] is 0.5', () => {
  expect(read('G21 G0 X[2.0 / 3 * 1.5 - 5.5 / 11.0]\nM2').motions.x[0]).toBeCloseTo(0.5, 12)
})

test('3.3.2.2: #1+2 is (#1)+2, ##2 is the parameter whose number is in #2', () => {
  expect([...read('G21\n#1=5\n#2=1\nG0 X[#1+2] Y##2\nM2').motions.x]).toEqual([7])
  expect([...read('G21\n#1=5\n#2=1\nG0 X[#1+2] Y##2\nM2').motions.y]).toEqual([5])
})

test('3.3.2.4: FIX and FUP', () => {
  const { x } = read('G21 G0 X0\nX FIX[2.8]\nX FIX[-2.8]\nX FUP[2.8]\nX FUP[-2.8]\nM2').motions
  expect([...x].slice(1)).toEqual([2, -3, 3, -2])
})

test('3.3.3: settings act after all values of the line are read', () => {
  expect([...read('G21 #3=15\n#3=6 G1 F100 x#3\nX#3\nM2').motions.x]).toEqual([15, 6])
})

test('3.3.1: blanks mean nothing: g0x +0. 12 34y 7 is g0 x+0.1234 y7', () => {
  const { x, y, count } = read('G21\ng0x +0. 12 34y 7\nM2').motions
  expect([count, x[0], y[0]]).toEqual([1, 0.1234, 7])
})

describe('Appendix C.1', () => {
  const program = readProgram(file('nist6556-C1-hello.ngc'))
  test('nothing is wrong with it', () => {
    expect(program.problems).toEqual([])
    expect(program.notSimulated).toEqual([])
  })
  test('cuts from X 0 to X 81, as its first line says, and Y 0 to 10, half a millimetre deep', () => {
    const { count, kind, x, y, z } = program.motions
    const cuts = Array.from({ length: count }, (_, i) => i).filter(i => kind[i] !== 0)
    expect(Math.min(...cuts.map(i => x[i]))).toBe(0)
    expect(Math.max(...cuts.map(i => x[i]))).toBe(81)
    expect(Math.min(...cuts.map(i => y[i]))).toBe(0)
    expect(Math.max(...cuts.map(i => y[i]))).toBe(10)
    expect(new Set(cuts.map(i => z[i]))).toEqual(new Set([-0.5]))
  })
  test('the letters o are full circles of radius 2.5', () => {
    const full = program.motions.arcs.filter(arc => Math.abs(Math.abs(arc.sweep) - 2 * Math.PI) < 1e-9)
    expect(full.map(arc => arc.centre)).toEqual([
      [32.5, 2.5],
      [57.5, 2.5],
    ])
    expect(full.every(arc => arc.radius === 2.5 && arc.sweep < 0)).toBe(true)
  })
  test('feed, speed and bit are in force', () => {
    const state = program.states[program.motions.state[3]]
    expect([state.feed, state.speed, state.spindle, state.tool]).toEqual([20, 4000, 'clockwise', 1])
  })
})

describe('Table 10', () => {
  const transcript = readFileSync(new URL('programs/nist6556-Table10-transcript.txt', import.meta.url), 'utf8').split(
    /\r?\n/,
  )
  const typed = transcript.filter(line => line !== '' && !/^[\s#]/.test(line))
  const lengths = new Map([[2, 1]])

  test('a straight cut and an arc by its radius', () => {
    const program = read(typed.slice(0, 2).join('\n'))
    near(
      ends(program),
      [
        [3, 1, Number.NaN],
        [0, 1, 0.5],
      ].map(point => point.slice(0, 2)),
    )
    expect(program.motions.z[1]).toBe(0.5)
    const [arc] = program.motions.arcs
    expect(arc.centre[0]).toBeCloseTo(1.5, 4)
    expect(arc.centre[1]).toBeCloseTo(7.8476, 4)
    expect(arc.sweep).toBeLessThan(0)
    expect(program.states[0].feed).toBe(20)
  })

  test('an unknown function is an error, and the same line written right is not', () => {
    const [wrong, right] = [typed[5], typed[6]]
    expect(wrong).toContain('asim')
    expect(read(`G21 F20\n${wrong}\nM2`).problems.map(problem => problem.code)).toEqual(['syntax/bad-expression'])
    const program = read(`G21 F20\n${right}\nM2`)
    expect(program.problems).toEqual([])
    expect(program.motions.x[0]).toBeCloseTo(30, 10)
  })

  test('the length of the bit shifts Z: 0.5 becomes -0.5; then two holes of a drilling cycle', () => {
    // One program in place of lines typed in: the cycle goes on from where the transcript stands.
    const program = read(['G21 G1 F20 X30 Y1 Z0.5', typed[2], typed[3], typed[7], 'M2'].join('\n'), {
      toolLengths: lengths,
    })
    expect(program.problems).toEqual([])
    const { count, x, y, z, state, kind } = program.motions
    const coordinates = Array.from({ length: count - 1 }, (_, i) => {
      const { offset } = program.states[state[i + 1]]
      return [x[i + 1] - offset[0], y[i + 1] - offset[1], z[i + 1] - offset[2]]
    })
    near(coordinates, [
      [30, 1, 1],
      [33, 3, 1],
      [33, 3, 0.2],
      [33, 3, 1],
      [36, 5, 1],
      [36, 5, 0.2],
      [36, 5, 1],
    ])
    expect([...kind].slice(1)).toEqual([0, 0, 1, 0, 0, 1, 0])
  })
})

describe('3.5.16: the worked cycles, from (1, 2, 3)', () => {
  test('G90 G81 G98 X4 Y5 Z1.5 R2.8', () => {
    near(ends(read('G21 F100 G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8\nM2')).slice(1), [
      [4, 5, 3],
      [4, 5, 2.8],
      [4, 5, 1.5],
      [4, 5, 3],
    ])
  })
  test('G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3', () => {
    const points = ends(read('G21 F100 G0 X1 Y2 Z3\nG91 G81 G98 X4 Y5 Z-0.6 R1.8 L3\nM2')).slice(1)
    near(points, [
      [1, 2, 4.8],
      [5, 7, 4.8],
      [5, 7, 4.2],
      [5, 7, 4.8],
      [9, 12, 4.8],
      [9, 12, 4.2],
      [9, 12, 4.8],
      [13, 17, 4.8],
      [13, 17, 4.2],
      [13, 17, 4.8],
    ])
  })
})

describe('Appendix C.3', () => {
  // The report's interpreter starts at the origin; here that is said.
  const text = `g20 g0 x0 y0 z0\n${new TextDecoder().decode(file('nist6556-C3-cycles.ngc'))}`
  const program = read(text)
  const cutEnds = (line: number): number[][] => {
    const { count, kind } = program.motions
    const all = ends(program, 25.4)
    return Array.from({ length: count }, (_, i) => i)
      .filter(i => kind[i] === 1 && program.motions.line[i] === line)
      .map(i => all[i])
  }
  test('nothing is wrong with it', () => {
    expect(program.problems).toEqual([])
    expect(program.notSimulated).toEqual([])
  })
  test('three more holes an inch apart; four more two inches apart', () => {
    near(cutEnds(3), [[3, 4, -1.1]])
    near(
      cutEnds(4).map(point => point.slice(0, 2)),
      [
        [4, 4],
        [5, 4],
        [6, 4],
      ],
    )
    near(
      cutEnds(8).map(point => point.slice(0, 2)),
      [
        [0, 7],
        [-2, 9],
        [-4, 11],
        [-6, 13],
      ],
    )
  })
  test('G83 pecks by 0.21 from R 0.2 down to -1.1', () => {
    near(
      cutEnds(9).map(point => [point[2]]),
      [[-0.01], [-0.22], [-0.43], [-0.64], [-0.85], [-1.06], [-1.1]],
    )
  })
  test('the same cycles in XZ and YZ drill along Y and X', () => {
    const line = (start: string): number => text.split('\n').findIndex(candidate => candidate.startsWith(start))
    near(cutEnds(line('n0260')), [[5, -1.1, 4]])
    near(cutEnds(line('n0460')), [[-1.1, 4, 5]])
  })
})

test('3.5.3.2: G17 G2 x10 y16 i3 j4 z9 from (7, 7) is a helix about (10, 11) of radius 5', () => {
  const program = read('G21 F100 G0 X7 Y7 Z0\nG17 G2 x10 y16 i3 j4 z9\nM2')
  expect(program.problems).toEqual([])
  const [arc] = program.motions.arcs
  expect(arc).toMatchObject({ plane: 'XY', centre: [10, 11], radius: 5 })
  expect(arc.sweep).toBeLessThan(0)
  expect(program.motions.z[1]).toBe(9)
})

test('3.5.18: at X4 G92 x7 makes the offset -3; then G92 x9 makes it -5', () => {
  const program = read('G21 G0 X4\nG92 x7\nG0 X7 Y0\nG92 x9\nG0 X9 Y1\nM2')
  expect(program.states.map(state => state.offset[0])).toEqual([0, -3, -5])
  expect([...program.motions.x]).toEqual([4, 4, 4])
})

describe('Tables 12 and 13: one tool path, written as the edge of the material and as a nominal path', () => {
  // The arcs of Table 13 lie 0.5 outside those of Table 12: the first is for a bit of diameter 1, the second has the
  // radius in it. From the end of the entry move on, both must give the same path.
  const path = (name: string, diameter: number): Program =>
    readProgram(file(name), { toolDiameters: new Map([[0, diameter]]) })
  const edge = path('nist6556-Table12-comp-material-edge.ngc', 1)
  const nominal = path('nist6556-Table13-comp-nominal-path.ngc', 0)
  const from = (program: Program, line: number): { points: number[][]; centres: (readonly number[] | undefined)[] } => {
    const { count, x, y, arc, arcs } = program.motions
    const chosen = Array.from({ length: count }, (_, i) => i).filter(i => program.motions.line[i] >= line)
    return {
      points: chosen.map(i => [x[i], y[i]]),
      centres: chosen.map(i => (arc[i] < 0 ? undefined : arcs[arc[i]].centre)),
    }
  }
  test('the same end points', () => {
    near(from(edge, 3).points, from(nominal, 3).points, 9)
  })
  test('Table 13 without a radius is its own text', () => {
    near(from(nominal, 2).points, [
      [2, 3.5],
      [3.5, 2],
      [3.5, -1],
      [2, -2.5],
      [-2, -2.5],
      [-2.9, 0.2],
      [1.1, 3.2],
      [2, 3.5],
    ])
  })
  test('the same circles', () => {
    const a = from(edge, 3).centres
    const b = from(nominal, 3).centres
    a.forEach((centre, i) => {
      expect(centre === undefined).toBe(b[i] === undefined)
      centre?.forEach((value, axis) => {
        expect(value).toBeCloseTo(b[i]![axis], 9)
      })
    })
  })
  test('no errors of path', () => {
    for (const program of [edge, nominal]) {
      expect(program.problems.filter(problem => problem.code.startsWith('arc/'))).toEqual([])
    }
  })
})

test('Appendix B: an inside corner is an error under compensation', () => {
  const text = 'G21 F100 G0 X0 Y0 Z0\nG41 D1 G1 X10 Y0\nX20\nY-10\nX10\nG40 M2'
  const inside = read('G21 F100 G0 X0 Y-5 Z0\nG41 D1 G1 X10 Y0\nX20\nY10\nG40\nM2', {
    toolDiameters: new Map([[1, 2]]),
  })
  expect(inside.problems.map(problem => [problem.code, problem.span])).toEqual([
    ['arc/radius-too-small', { line: 3, start: 0, end: 3 }],
  ])
  const outside = read(text, { toolDiameters: new Map([[1, 2]]) })
  expect(outside.problems).toEqual([])
  // The bit's centre goes round the corner at its radius.
  expect(outside.motions.arcs.map(arc => [arc.centre, arc.radius])).toEqual([
    [[10, 0], 1],
    [[20, 0], 1],
    [[20, -10], 1],
  ])
})

test('3.6.1: M2 puts the plane, the distance mode and the offset back, and stops the spindle', () => {
  expect(read('G21 G18 G91 M3 S100 G0 X1\nM2').events.map(event => event.kind)).toEqual(['spindle', 'end'])
})

test('3.5.19: under G93 F is one over the minutes, and each cut needs one', () => {
  const program = read('G21 G0 X0 Y0 Z0\nG93 G1 X100 F2\nX200\nM2')
  // 100 mm in half a minute.
  expect(program.states[program.motions.state[1]].feed).toBe(200)
  expect(program.problems.map(problem => [problem.code, problem.span.line])).toEqual([['feed/missing', 2]])
})
