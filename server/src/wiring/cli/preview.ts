import { UsageError } from './usageError.ts'

/** `treen preview`: writes the page. */
export async function previewCommand(path: string, _options: { readonly out: string }): Promise<void> {
  throw new UsageError(`${path}: the preview page cannot be written yet`)
}
