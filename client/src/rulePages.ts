import { commands, type Disposable, Uri, workspace } from 'vscode'
import type { BaseLanguageClient } from 'vscode-languageclient'
import { type RulePageResult, rulePageRequest } from '../../server/src/wiring/messages.ts'

const scheme = 'treen-rule'

/** The pages of the rules, as documents that no file stands behind: they open without a network, in both hosts. */
export function registerRulePages(client: BaseLanguageClient): Disposable[] {
  return [
    workspace.registerTextDocumentContentProvider(scheme, {
      async provideTextDocumentContent(uri) {
        const code = uri.path.replace(/^\//, '').replace(/\.md$/, '')
        const page = await client.sendRequest<RulePageResult>(rulePageRequest, { code })
        return page ?? `# ${code}\n\nThere is no page about this yet.\n`
      },
    }),
    commands.registerCommand('treen.openRulePage', (code: unknown) => {
      if (typeof code !== 'string') return undefined
      return commands.executeCommand('markdown.showPreviewToSide', Uri.from({ scheme, path: `/${code}.md` }))
    }),
  ]
}
