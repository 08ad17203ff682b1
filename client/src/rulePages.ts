import { commands, type Disposable, l10n, Uri, workspace } from 'vscode'

const scheme = 'treen-rule'

/**
 * The pages of the rules, as documents that no file of the workspace stands behind: they come with the extension, and
 * open without a network in both hosts (on the web a file of the extension itself would open in the browser instead).
 */
export function registerRulePages(extension: Uri): Disposable[] {
  return [
    workspace.registerTextDocumentContentProvider(scheme, {
      async provideTextDocumentContent({ path }) {
        try {
          return new TextDecoder().decode(await workspace.fs.readFile(Uri.joinPath(extension, 'dist/rules', path)))
        } catch {
          return `# ${path.slice(1).replace(/\.md$/, '')}\n\n${l10n.t('There is no page about this yet.')}\n`
        }
      },
    }),
    commands.registerCommand('treen.openRulePage', (code: unknown) => {
      // Codes alone: what a link holds must not lead out of the folder of the pages.
      if (typeof code !== 'string' || !/^[a-z]+\/[a-z-]+$/.test(code)) return undefined
      return commands.executeCommand('markdown.showPreviewToSide', Uri.from({ scheme, path: `/${code}.md` }))
    }),
  ]
}
