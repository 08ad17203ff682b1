import type { Workspace } from '../../server/src/job/workspace.ts'

/** A workspace of texts in memory, by URI. */
export function memoryWorkspace(files: Readonly<Record<string, string>>, folder = 'file:///job/'): Workspace {
  const at = new Map(Object.entries(files).map(([name, text]) => [folder + name, new TextEncoder().encode(text)]))
  return {
    read: async uri => at.get(uri),
    list: async wanted => {
      const prefix = wanted.endsWith('/') ? wanted : `${wanted}/`
      const below = [...at.keys()].filter(uri => uri.startsWith(prefix)).map(uri => uri.slice(prefix.length))
      return below.filter(name => !name.includes('/'))
    },
  }
}
