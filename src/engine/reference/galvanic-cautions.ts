import type { SourceKey } from './sources.js'
import type { Status } from './status.js'

/** What to look out for where a metal or a mixture of metals is found on a boat, beyond pairs and potentials. */
export interface GalvanicCautionRow {
  readonly key: string
  readonly text: string
  readonly status: Status
  readonly sources: readonly SourceKey[]
  readonly note: string
}

const ROWS = [
  {
    key: 'stainless-without-oxygen',
    text: 'Stainless steel keeps its film only in moving water with oxygen. Under seals, in a cutless bearing, under growth and in stagnant water it becomes active and pits in the crevice. Draw the shaft and look at it where it runs in seal and bearing; a shaft pitted there can break, and a leaking seal can sink the boat.',
    status: 'verified-in-part',
    sources: ['small-craft-list', 'boating-practice'],
    note: 'that stainless starved of oxygen is active is printed in the list; where on a boat, and what to look at, is common practice',
  },
  {
    key: 'dezincification',
    text: 'Brasses with much zinc lose it in seawater and leave weak, pink, porous copper: yellow brass, and the duplex ones, naval brass and manganese bronze, which is a brass by its make-up. Use them below the waterline only under protection; scrape a spot and look for pink. A pink skin fitting can break and sink the boat: lift and survey.',
    status: 'verified',
    sources: ['seacock-article', 'surveyors-lexicon'],
    note: '',
  },
  {
    key: 'inhibited-brass',
    text: 'Admiralty and aluminium brass resist losing their zinc only in the inhibited grades: ask the maker which one this is.',
    status: 'memory',
    sources: ['boating-practice'],
    note: '',
  },
  {
    key: 'carbon',
    text: 'Graphite and carbon fibre are nobler than every metal of a boat: whatever metal they touch in the water is the anode. Part them with glass or a sleeve; no graphite grease or graphite packing on underwater metal.',
    status: 'verified-in-part',
    sources: ['aca-flowing-seawater', 'boating-practice'],
    note: 'the potential was read for graphite; the rest is common practice',
  },
  {
    key: 'copper-on-aluminium',
    text: 'Copper alloys bonded to aluminium waste it. Fit them through an insulating sleeve and flange, or in plastic.',
    status: 'common practice',
    sources: ['boating-practice'],
    note: '',
  },
  {
    key: 'copper-antifouling',
    text: 'Metallic copper in antifouling wastes an aluminium hull wherever it touches the metal: only paints that their maker passes for aluminium, over a whole barrier coat.',
    status: 'verified-in-part',
    sources: ['copper-antifouling-2015', 'boating-practice'],
    note: 'the abstract: harm needs metallic copper in contact, copper oxide paints did none in the tests; the rest is common practice',
  },
  {
    key: 'painted-anode',
    text: 'The less noble metal of a pair is painted and the nobler bare: all the attack goes to the scratches. Paint the nobler metal too, or first.',
    status: 'verified-in-part',
    sources: ['mil-std-1250-page', 'boating-practice'],
    note: 'the rule on small anodes by large cathodes was read; its use for paint is common practice',
  },
  {
    key: 'fresh-water',
    text: 'The series and the protection criteria are of seawater. In fresh water the order mostly holds, the values do not, and currents reach only a little way from where the metals touch: measure with a copper sulfate cell.',
    status: 'verified-in-part',
    sources: ['troubleshooting-manual-p109', 'boating-practice'],
    note: 'that potentials read differently and which cell to use was read; the rest is common practice',
  },
  {
    key: 'mixed-alloys',
    text: 'Anodes of different alloys on one bond: the more active wastes for the other. Fit one alloy.',
    status: 'verified',
    sources: ['technician-forum-post', 'boating-practice'],
    note: '',
  },
  {
    key: 'open-bond',
    text: 'On record it is bonded, by the last continuity reading it is not: its pairs and its protection are as good as that contact. Clean it and measure again.',
    status: 'common practice',
    sources: ['boating-practice'],
    note: '',
  },
  {
    key: 'connected-though-unbonded',
    text: 'Not bonded on record, yet a continuity reading shows metal contact: it is counted as connected.',
    status: 'common practice',
    sources: ['boating-practice'],
    note: '',
  },
] as const satisfies readonly GalvanicCautionRow[]

export type GalvanicCautionKey = (typeof ROWS)[number]['key']

/** Cautions of the galvanic audit. */
export const GALVANIC_CAUTIONS: readonly (GalvanicCautionRow & { readonly key: GalvanicCautionKey })[] = ROWS

/** The row of one caution. */
export function galvanicCaution(key: GalvanicCautionKey): GalvanicCautionRow {
  return GALVANIC_CAUTIONS.find((row) => row.key === key)!
}
