import { test } from 'vitest'
import { ring } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

const outline = (z: number) => ring(40, 40, 30, -z)

test('the outline right through, and nothing holds the inside', () => {
  const programs = { ...DISH_PROGRAMS, 'outline.nc': outline(-23.5) }
  expectFound(programs, dishSheet({ outline: { blank: 'dish', program: 'outline.nc', makes: 'outline' } }), [
    'outline.nc: Z-23.5: hold/cut-loose error',
  ])
})

test('the same with something that holds it, and with a skin left', () => {
  const setup = { blank: 'dish', program: 'outline.nc', makes: 'outline' }
  const through = { ...DISH_PROGRAMS, 'outline.nc': outline(-23.5) }
  expectFound(through, dishSheet({ outline: { ...setup, held: 'tape' } }), [])
  expectFound({ ...DISH_PROGRAMS, 'outline.nc': outline(-22.5) }, dishSheet({ outline: setup }), [])
})
