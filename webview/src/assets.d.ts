/** A worker's whole script as text; the bundler makes it. */
declare module '*?worker' {
  const script: string
  export default script
}
