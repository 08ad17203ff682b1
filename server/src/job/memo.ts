/**
 * Results kept from one working-out of a job to the next, by all that they depend on. After an edit only what
 * depends on it misses. Entries that a whole run of the job did not ask for are dropped at its end, so that it
 * never holds more than one job's worth.
 */
export interface Memo {
  /** What `make` gave for this key; `make` runs only where the key is new. */
  get<T>(key: string, make: () => T): T
  /** A short name for an object, the same for as long as it lives. */
  identity(thing: object): string
  /** Drops what was not asked for since the last sweep. */
  sweep(): void
}

export function newMemo(): Memo {
  let older = new Map<string, unknown>()
  let newer = new Map<string, unknown>()
  const names = new WeakMap<object, string>()
  let count = 0
  return {
    get<T>(key: string, make: () => T): T {
      if (newer.has(key)) return newer.get(key) as T
      const value = older.has(key) ? (older.get(key) as T) : make()
      newer.set(key, value)
      return value
    },
    identity(thing) {
      let name = names.get(thing)
      if (name === undefined) {
        name = `@${++count}`
        names.set(thing, name)
      }
      return name
    },
    sweep() {
      older = newer
      newer = new Map()
    },
  }
}

/** The same memo for a look aside: what it asks for is kept as well, and nothing is dropped at its end. */
export function quietMemo(memo: Memo): Memo {
  return { get: (key, make) => memo.get(key, make), identity: thing => memo.identity(thing), sweep: () => {} }
}

/** A memo that says so before each step that it has to make. */
export function toldMemo(memo: Memo, told: () => void): Memo {
  return {
    get: (key, make) =>
      memo.get(key, () => {
        told()
        return make()
      }),
    identity: thing => memo.identity(thing),
    sweep: () => memo.sweep(),
  }
}
