import { expect, it } from 'vitest'
import { NewHaulOut } from '../../../src/contract/haul-outs.js'
import { liftFaults } from '../../../src/services/haul-outs/haul-out-faults.js'

const TODAY = '2031-06-15'
const WEIGHED = [{ anode: 'hull 1', massG: 700 }]

it.each([
  ['done today', { hauledOn: TODAY, weighings: WEIGHED }, []],
  ['done where it is tomorrow already', { hauledOn: '2031-06-16', weighings: WEIGHED }, []],
  ['planned', { hauledOn: '2031-09-01', relaunchedOn: '2031-09-03', planned: true }, []],
  ['ahead, not planned', { hauledOn: '2031-06-17' }, ['#/hauledOn']],
  ['ahead, with masses', { hauledOn: '2031-09-01', planned: true, weighings: WEIGHED }, ['#/weighings']],
  ['ahead, with a relaunch', { hauledOn: '2031-09-01', planned: true, relaunch: { berth: null } }, ['#/relaunch']],
  ['relaunched before it was hauled', { hauledOn: TODAY, relaunchedOn: '2031-06-14' }, ['#/relaunchedOn']],
  ['relaunched in the future', { hauledOn: TODAY, relaunchedOn: '2031-06-20' }, ['#/relaunchedOn']],
  ['back at a berth on no day', { hauledOn: TODAY, relaunch: { berth: 'A1' } }, ['#/relaunchedOn']],
  ['relaunched onto land', { hauledOn: TODAY, relaunchedOn: TODAY, relaunch: { berth: null } }, ['#/relaunch/berth']],
])('a lift %s', (_, lift, pointers) => {
  expect(liftFaults(NewHaulOut.parse(lift), TODAY).map((fault) => fault.pointer)).toEqual(pointers)
})
