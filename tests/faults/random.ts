/** A small seeded source of chances (mulberry32): the same seed plants the same faults. */
export class Chance {
  constructor(private state: number) {}
  /** 0 <= value < 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
  below(count: number): number {
    return Math.floor(this.next() * count)
  }
  pick<T>(of: readonly T[]): T {
    return of[this.below(of.length)]
  }
  yes(): boolean {
    return this.next() < 0.5
  }
}
