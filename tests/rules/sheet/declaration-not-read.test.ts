import { expect, test } from 'vitest'
import { commentSheet } from '../../../server/src/job/commentSheet.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { checkSheet } from '../../../server/src/rules/checkJob.ts'

function found(text: string): string[] {
  const uri = 'file:///shop/tray.nc'
  const document = commentSheet(uri, readProgram(new TextEncoder().encode(text)))
  if (!document) return []
  return checkSheet(document).findings.map(({ code, severity, range }) => {
    const words = text.split('\n')[range.start.line].slice(range.start.character, range.end.character)
    return `${words}: ${code} ${severity}`
  })
}

test('a comment that begins like a declaration and does not fit', () => {
  expect(found('(blank: 220 by 160, 24 thick)\nG21 G90\nG0 Z5\nM30')).toEqual([
    '(blank: 220 by 160, 24 thick): sheet/declaration-not-read information',
  ])
})

test('one that fits', () => {
  expect(found('(blank: 220 x 160 x 24 mm, zero near-left face)\nG21 G90\nG0 Z5\nM30')).toEqual([])
})
