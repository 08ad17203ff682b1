import { expect, test } from 'vitest'
import { programLinks } from '../../../server/src/features/sheet/links.ts'

const links = (text: string) => programLinks('file:///shop/dish/a.jobsheet.json', text)

test('a program is a way to its file, from between its quotes', () => {
  const text = '{ "setups": [\n  { "program": "../lib/ä b.nc" },\n  { "saw": {} }, { "program": "x.nc" ] // half typed'
  expect(links(text)).toEqual([
    {
      range: { start: { line: 1, character: 16 }, end: { line: 1, character: 29 } },
      target: 'file:///shop/lib/%C3%A4%20b.nc',
    },
    { range: { start: { line: 2, character: 31 }, end: { line: 2, character: 35 } }, target: 'file:///shop/dish/x.nc' },
  ])
})

test('there are none where there is no list of set-ups', () => {
  for (const text of ['', '{', '{ "setups": 3 }', '{ "setups": [1, null, { "program": 5 }, { "program": "" }] }']) {
    expect(links(text)).toEqual([])
  }
})
