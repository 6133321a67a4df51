import { REPLACEMENT_AND_INSPECTION } from '../reference/replacement-and-inspection.js'

const DAYS_PER_MONTH = 365.25 / 12

/**
 * How long an anode of the right alloy and size commonly lasts in temperate salt water, until it is due [d]: the range of
 * common practice, nine to eighteen months.
 *
 * @see reference `salt-temperate`
 */
export function normalLifeRangeDays(): readonly [low: number, high: number] {
  const row = REPLACEMENT_AND_INSPECTION.find(({ key }) => key === 'salt-temperate')
  if (!Array.isArray(row?.value)) throw new Error('the reference table has lost the row salt-temperate')
  const [low, high] = row.value as readonly [number, number]
  return [low * DAYS_PER_MONTH, high * DAYS_PER_MONTH]
}

/** The middle of that range on the log scale [d]. */
export function normalLifeDays(): number {
  const [low, high] = normalLifeRangeDays()
  return Math.sqrt(low * high)
}

/** How often to look at every anode [d]. @see reference `interval` */
export function inspectionIntervalDays(): number {
  const row = REPLACEMENT_AND_INSPECTION.find(({ key }) => key === 'interval')
  if (typeof row?.value !== 'number') throw new Error('the reference table has lost the row interval')
  return row.value
}
