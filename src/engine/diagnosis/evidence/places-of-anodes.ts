import type { ObservedAnode } from '../../rates/mass-states.js'

/** Positions of one kind are told apart by the words of the anode's name: "hull port 3" sits where "hull port 1" sat. */
export function place({ history }: ObservedAnode): string {
  return `${history.position}\n${history.anode.replace(/[\d\s]+$/, '')}`
}
