/** Waits until all is written: a pipe takes a long report in pieces, and the process ends after this. */
export function print(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, error => (error ? reject(error) : resolve()))
  })
}
