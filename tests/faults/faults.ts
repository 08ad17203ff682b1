// Plants one fault of every kind in every clean job, lets the judge and the product speak, and prints the table:
// npm run faults [-- --json] [-- --seed N] [-- --jobs N] [-- --every N] [-- --minutes N] [-- --misses]
// [-- --lines]: `--misses` writes down each that is missed, misplaced or doubtful, `--lines` each that is planted.
import { join } from 'node:path'
import { type CleanJob, makeJob, makeVariedJob, sampleJobs } from './jobs.ts'
import { KINDS } from './kinds/all.ts'
import { alarms, benchOf, type Planted, plant, sayOf } from './measure.ts'
import { Chance } from './random.ts'
import { rowsOf, tableOf } from './table.ts'

const MADE = 30

const option = (name: string): number | undefined => {
  const at = process.argv.indexOf(`--${name}`)
  return at < 0 ? undefined : Number(process.argv[at + 1])
}
const seed = option('seed') ?? 1
const count = option('jobs') ?? MADE + 2
/** Each job is given every Nth kind, another first one each time. */
const every = option('every') ?? 1
/** Stops after so many minutes, and says how far it came. */
const until = Date.now() + (option('minutes') ?? Number.POSITIVE_INFINITY) * 60_000
let done = 0
const json = process.argv.includes('--json')
const misses = process.argv.includes('--misses')
const lines = process.argv.includes('--lines')

const chance = new Chance(seed)
const all: CleanJob[] = Array.from({ length: MADE }, (_, index) => makeJob(index, chance))
all.push(...sampleJobs(join(process.cwd(), 'samples')))

const planted: Planted[] = []
const unclean: string[] = []
for (const [index, job] of all.slice(0, count).entries()) {
  if (Date.now() > until) break
  const bench = await benchOf(job)
  for (const { code, message } of bench.alarms) unclean.push(`${job.name}: ${code} ${message}`)
  for (const [k, kind] of KINDS.entries()) {
    if ((k + index) % every !== 0 || Date.now() > until) continue
    const one = await plant(bench, kind, seed * 1_000_003 + index * 997 + k)
    if (!one) continue
    planted.push(one)
    if (lines || (misses && (isWrong(one) || isDoubtful(one)))) console.error(JSON.stringify(brief(one)))
  }
  done++
  if (!json) process.stderr.write(`${index + 1} of ${Math.min(count, all.length)} jobs\r`)
}

// Good work in other hands than the judge reads: met with silence, whatever it is.
let varied = 0
const others = new Chance(seed)
for (; varied < Math.min(count, MADE) && Date.now() <= until; varied++) {
  const job = makeVariedJob(varied, others)
  for (const { code, message } of alarms(await sayOf(job.files, job.sheet)))
    unclean.push(`${job.name}: ${code} ${message}`)
}

const wrong = planted.filter(isWrong)
if (json) {
  const listed = wrong.map(brief)
  console.log(JSON.stringify({ seed, jobs: done, varied, rows: rowsOf(planted), unclean, wrong: listed }, null, 2))
} else {
  console.log(`seed ${seed}, ${done} clean jobs and ${varied} in other hands, ${KINDS.length} kinds`)
  console.log(tableOf(rowsOf(planted)))
  for (const line of unclean) console.log(`clean, yet: ${line}`)
  for (const { crashed, kind, job } of planted) if (crashed) console.log(`crashed: ${kind} in ${job}: ${crashed}`)
  const share = (part: number, whole: number): string => (whole === 0 ? '-' : `${((100 * part) / whole).toFixed(1)} %`)
  const harmful = planted.filter(one => one.verdict.is === 'harmful')
  console.log(
    `harmful found ${share(harmful.filter(one => one.found).length, harmful.length)}, at the line or what follows from it ${share(harmful.filter(one => one.found && one.placed).length, harmful.length)}`,
  )
  const byCode = new Map<string, number>()
  for (const one of planted.filter(own => own.verdict.is === 'different'))
    for (const code of new Set(alarms(one.findings).map(finding => finding.code)))
      byCode.set(code, (byCode.get(code) ?? 0) + 1)
  console.log(
    `different ones are noticed by ${[...byCode]
      .sort((a, b) => b[1] - a[1])
      .map(([code, n]) => `${code} ${n}`)
      .join(', ')}`,
  )
}

/** A harmful one that was missed or told of elsewhere, or a false alarm. */
function isWrong({ verdict, found, placed, crashed }: Planted): boolean {
  if (crashed !== undefined) return true
  return verdict.is === 'harmful' ? !(found && placed) : verdict.is === 'harmless' && found
}

/** An error where the judge sees nothing broken: one of the two is wrong, or the judge does not look for it. */
function isDoubtful({ verdict, findings }: Planted): boolean {
  return verdict.is === 'different' && findings.some(finding => finding.severity === 'error')
}

function brief({ kind, job, mutant, verdict, findings, found, placed, crashed }: Planted): object {
  const clean = all.find(own => own.name === job)!
  const was = (clean.files.get(mutant.file) ?? '').split('\n')[mutant.line]
  const is = (mutant.files.get(mutant.file) ?? '').split('\n')[mutant.line]
  return {
    kind,
    job,
    place: `${mutant.file}:${mutant.line + 1}`,
    was,
    is,
    verdict: verdict.is,
    harms: verdict.harms.slice(0, 4).map(({ what, program, line }) => `${what} ${program ?? ''}:${(line ?? -1) + 1}`),
    found,
    placed,
    crashed,
    said: alarms(findings)
      .slice(0, 6)
      .map(
        f =>
          `${f.code} ${f.file.slice(f.file.lastIndexOf('/') + 1)}:${f.range.start.line + 1} ${f.message.slice(0, 180)}`,
      ),
  }
}
