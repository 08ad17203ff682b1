/** Functions of NISTIR 6556, 3.3.2.4, and EXISTS of the kept extensions. */
export const FUNCTIONS: ReadonlySet<string> = new Set(
  'abs acos asin atan cos exp exists fix fup ln round sin sqrt tan'.split(' '),
)

/** What may follow the label of an O word, of the kept extensions. */
export const FLOW_KEYWORDS: readonly string[] =
  'sub endsub call return if elseif else endif while endwhile do repeat endrepeat break continue'.split(' ')
