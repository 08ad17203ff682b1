// Tries random programs, sheets and messages on the language server: npm run fuzz [-- --seed N] [-- --minutes N]
// [-- --only programs|sheets|messages] [-- --cases N]. Each case has a seed of its own, printed with what it broke;
// `--seed` with `--cases 1` tries it again. What it was tried with is written to `dist/fuzz/TARGET-SEED.txt`;
// what is being tried, should it never end, to `dist/fuzz/trying.txt`.
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { Chance } from '../faults/random.ts'
import { TARGETS, tryCase } from './server.ts'

const option = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`)
  return at < 0 ? undefined : process.argv[at + 1]
}
const first = Number(option('seed') ?? Math.floor(Math.random() * 1e9))
const until = Date.now() + Number(option('minutes') ?? 1) * 60_000
const cases = Number(option('cases') ?? Number.POSITIVE_INFINITY)
const targets = TARGETS.filter(target => (option('only') ?? target) === target)

const folder = join('dist', 'fuzz')
mkdirSync(folder, { recursive: true })
console.log(`seed ${first}`)
const tried = { programs: 0, sheets: 0, messages: 0 }
let broken = 0
for (let seed = first; seed < first + cases && Date.now() < until; seed++) {
  for (const target of targets) {
    const { wrong, input } = await tryCase(target, new Chance(seed), text => {
      writeFileSync(join(folder, 'trying.txt'), `${target}, seed ${seed}\n${text}`)
    })
    tried[target]++
    if (!wrong) continue
    broken++
    writeFileSync(join(folder, `${target}-${seed}.txt`), input)
    console.log(`\n${target}, seed ${seed}: ${wrong.slice(0, 1200)}`)
  }
}
console.log(`tried ${targets.map(target => `${tried[target]} ${target}`).join(', ')}: ${broken} broken`)
process.exit(broken > 0 ? 1 : 0)
