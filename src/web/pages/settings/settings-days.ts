import { dateFormat } from '../../wording/locale.js'

/** The day of an instant, where the reader is. */
export function sayDay(at: string): string {
  return dateFormat({ day: 'numeric', month: 'short', year: 'numeric' }).format(new Date(at))
}
