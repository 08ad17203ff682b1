import { KERNEL_WASM } from './wasm.ts'

/** What the module of `kernel.as` offers; addresses and counts are whole numbers. */
export interface KernelExports {
  readonly memory: WebAssembly.Memory
  layout(
    base: number,
    blocksX: number,
    blocksY: number,
    layers: number,
    cutters: number,
    chords: number,
    motions: number,
    bins: number,
    cell: number,
  ): number
  /** Address of a part: see `Part`. */
  at(part: number): number
  window(i0: number, j0: number, i1: number, j1: number): void
  share(workers: number, worker: number, strip: number): void
  tally(on: number): void
  measure(fromBlock: number, toBlock: number): void
  crown(): void
  run(chords: number): void
  /** Lays the staged rows down as blocks at an address. */
  fromRows(into: number, nx: number, ny: number): void
  /** Whether any column was cut through since it was asked last. */
  through(): number
}

/** Parts of the kernel's memory, as `at` numbers them. */
export const Part = {
  hi: 0,
  lo: 1,
  deeper: 2,
  cutters: 3,
  chords: 4,
  out: 5,
  bins: 6,
  popped: 7,
  dirty: 8,
  stage: 9,
} as const

let compiled: WebAssembly.Module | undefined | null = null

/** A kernel with a memory of its own; undefined where WebAssembly, or its SIMD, is not to be had. */
export function newKernel(): KernelExports | undefined {
  if (compiled === null) compiled = compile()
  if (!compiled) return undefined
  // The type of the exports is the kernel's own source; a test carves with it.
  return new WebAssembly.Instance(compiled).exports as unknown as KernelExports
}

let shared: KernelExports | undefined

/**
 * The kernel for work that ends before anything else can begin: one for all of it, since making a memory costs more
 * than a small job. Undefined where there is none.
 */
export function sharedKernel(): KernelExports | undefined {
  shared ??= newKernel()
  return shared
}

function compile(): WebAssembly.Module | undefined {
  try {
    const text = atob(KERNEL_WASM)
    return new WebAssembly.Module(Uint8Array.from(text, character => character.charCodeAt(0)))
  } catch {
    // Refused by a policy, or by an engine without SIMD: the plain twin does the work.
    return undefined
  }
}
