import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

const { setups, ...rest } = dishSheet() as { setups: object[] }
const [plug, pocket, glue, ...others] = setups
const early = { ...rest, setups: [plug, glue, pocket, ...others] }

test('glued before its pocket is cut', () => expectSheet(JSON.stringify(early), ['"pocket": sheet/wrong-order']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
