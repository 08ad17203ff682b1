import type { Fix } from '../../features/sheet/fix.ts'
import { ALL_RULES } from '../../rules/all.ts'
import type { Finding, Severity } from '../../rules/rule.ts'
import type { Range } from '../../syntax/source.ts'
import type { Digest } from './digest.ts'

/** SARIF's word for each severity: section 3.27.10 of SARIF 2.1.0. */
const LEVELS: Record<Severity, string> = { error: 'error', warning: 'warning', information: 'note' }

/**
 * The log that `--format sarif` prints: SARIF 2.1.0 (OASIS), one run. Regions are 1-based with `endColumn` one past
 * the last, in UTF-16 code units. `pageOf` gives the text of a rule's page.
 */
export function sarifReport(
  { findings, suppressed, fixes }: Digest,
  version: string,
  nameOf: (uri: string) => string,
  pageOf: (code: string) => string | undefined,
): object {
  const said = [
    ...findings.map(finding => ({ finding, allowed: false })),
    ...suppressed.map(finding => ({ finding, allowed: true })),
  ]
  const codes = [...new Set(said.map(({ finding }) => finding.code))].sort()
  return {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Treen', version, rules: codes.map(code => ruleOf(code, pageOf)) } },
        columnKind: 'utf16CodeUnits',
        results: said.map(({ finding, allowed }) => ({
          ...resultOf(finding, allowed, codes, nameOf),
          ...fixesPart(fixes.get(finding), nameOf),
        })),
      },
    ],
  }
}

function ruleOf(code: string, pageOf: (code: string) => string | undefined): object {
  const rule = ALL_RULES.find(({ id }) => id === code)
  const page = pageOf(code)
  return {
    id: code,
    ...(rule && {
      shortDescription: { text: rule.title },
      defaultConfiguration: { level: LEVELS[rule.severity] },
    }),
    ...(page && { help: { text: page, markdown: page } }),
  }
}

function resultOf(
  finding: Finding,
  allowed: boolean,
  codes: readonly string[],
  nameOf: (uri: string) => string,
): object {
  const { code, severity, message, found, limit, sheet, setup, copies, related } = finding
  return {
    ruleId: code,
    ruleIndex: codes.indexOf(code),
    level: LEVELS[severity],
    message: { text: message },
    locations: [locationOf(finding, nameOf)],
    ...(related.length > 0 && {
      relatedLocations: related.map((place, id) => ({
        id,
        message: { text: place.message },
        ...locationOf(place, nameOf),
      })),
    }),
    ...(allowed && { suppressions: [{ kind: 'inSource' }] }),
    properties: { found, limit, sheet: sheet && nameOf(sheet), setup, copies },
  }
}

/** SARIF 2.1.0, section 3.55: each fix with what it takes out and puts in. */
function fixesPart(fixes: readonly Fix[] | undefined, nameOf: (uri: string) => string): object {
  if (!fixes) return {}
  return {
    fixes: fixes.map(({ title, file, edits }) => ({
      description: { text: title },
      artifactChanges: [
        {
          artifactLocation: { uri: addressOf(file, nameOf) },
          replacements: edits.map(({ range, text }) => ({
            deletedRegion: regionOf(range),
            insertedContent: { text },
          })),
        },
      ],
    })),
  }
}

function locationOf({ file, range }: Pick<Finding, 'file' | 'range'>, nameOf: (uri: string) => string): object {
  return {
    physicalLocation: { artifactLocation: { uri: addressOf(file, nameOf) }, region: regionOf(range) },
  }
}

const addressOf = (file: string, nameOf: (uri: string) => string) =>
  nameOf(file).split('/').map(encodeURIComponent).join('/')

function regionOf({ start, end }: Range): object {
  return {
    startLine: start.line + 1,
    startColumn: start.character + 1,
    endLine: end.line + 1,
    endColumn: end.character + 1,
  }
}
