import type { CouplePair } from '../../../contract/galvanic.js'
import {
  GRADE_WORDS,
  lowerFirst,
  metalName,
  metalWithin,
  sayArea,
  sayAreaRatio,
  sayDelta,
  shortName,
} from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'

/** A pair as the audit and the checker both have it; the fittings where a boat has names for them. */
export interface ShownPair
  extends Pick<CouplePair, 'deltaVolts' | 'areRolesCertain' | 'areaRatio' | 'grade' | 'reason' | 'whenFilmLost'> {
  /** Of the surfaces that the water reaches as if bare: paint allowed for. */
  readonly exposedRatio: number | null
  readonly cathode: ShownSide
  readonly anode: ShownSide
}

interface ShownSide {
  readonly metal: string
  readonly areaCm2: number | null
  readonly fittings?: readonly string[]
}

/** Two metals, who wastes for whom, how far apart, and why that is so bad or so good. */
export function PairCard({ pair }: { pair: ShownPair }) {
  const { cathode, anode, deltaVolts, areRolesCertain, areaRatio, exposedRatio, grade, reason } = pair
  return (
    <li className="pair">
      <div className="pair-head">
        <JudgementTag judgement={GRADE_WORDS[grade]} />
        <h3>
          {shortName(anode.metal)} with {lowerFirst(shortName(cathode.metal))}
        </h3>
      </div>
      <dl className="pair-figures">
        <Side name={areRolesCertain ? 'Anode' : 'Less noble'} side={anode} />
        <Side name={areRolesCertain ? 'Cathode' : 'Nobler'} side={cathode} />
        <div>
          <dt>Apart</dt>
          <dd>{sayDelta(deltaVolts)}</dd>
        </div>
        <div>
          <dt>Area, cathode : anode</dt>
          <dd>
            {sayAreaRatio(areaRatio)}
            {exposedRatio !== areaRatio && <small> paint allowed for: {sayAreaRatio(exposedRatio)}</small>}
          </dd>
        </div>
      </dl>
      <p className="pair-reason">{reason}</p>
      {pair.whenFilmLost.map((lost) => (
        <FilmLost key={lost.active} lost={lost} />
      ))}
    </li>
  )
}

function Side({ name, side: { areaCm2, fittings, metal } }: { name: string; side: ShownSide }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>
        {fittings === undefined || fittings.length === 0 ? metalName(metal) : fittings.join(', ')}
        <small> {sayArea(areaCm2)}</small>
      </dd>
    </div>
  )
}

function FilmLost({ lost }: { lost: CouplePair['whenFilmLost'][number] }) {
  return (
    <p className="pair-film small">
      <strong>Without its film</strong> all over, as {metalWithin(lost.active)}, {roleOf(lost)},{' '}
      {sayDelta(lost.deltaVolts)} apart: <JudgementTag judgement={GRADE_WORDS[lost.grade]} />
    </p>
  )
}

function roleOf({ active, anode, areRolesCertain }: CouplePair['whenFilmLost'][number]): string {
  if (!areRolesCertain) return 'either may be the anode'
  return anode === active ? 'it is the anode' : 'it is the cathode'
}
