import { Trans } from 'react-i18next'
import type { CouplePair } from '../../../contract/galvanic.js'
import { within } from '../../wording/things.js'
import { judgeGrade, metalName, sayArea, sayAreaRatio, sayDelta, shortName, t } from './galvanic-words.js'
import { JudgementTag } from './judgement-tag.js'

type FilmLost = Pick<
  CouplePair['whenFilmLost'][number],
  'active' | 'anode' | 'areRolesCertain' | 'deltaVolts' | 'grade'
>

/** A pair as the audit and the checker both have it; the fittings where a boat has names for them. */
export interface ShownPair extends Pick<CouplePair, 'deltaVolts' | 'areRolesCertain' | 'areaRatio' | 'grade'> {
  /** Its reason, in the reader's language. */
  readonly said: string
  readonly whenFilmLost: readonly FilmLost[]
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
  const { cathode, anode, deltaVolts, areRolesCertain, areaRatio, exposedRatio, grade, said } = pair
  return (
    <li className="pair">
      <div className="pair-head">
        <JudgementTag judgement={judgeGrade(grade)} />
        <h3>{t('pair.head', { anode: shortName(anode.metal), cathode: within(shortName(cathode.metal)) })}</h3>
      </div>
      <dl className="pair-figures">
        <Side name={areRolesCertain ? t('pair.anode') : t('pair.lessNoble')} side={anode} />
        <Side name={areRolesCertain ? t('pair.cathode') : t('pair.nobler')} side={cathode} />
        <div>
          <dt>{t('pair.apart')}</dt>
          <dd>{sayDelta(deltaVolts)}</dd>
        </div>
        <div>
          <dt>{t('pair.areas')}</dt>
          <dd>
            {sayAreaRatio(areaRatio)}
            {exposedRatio !== areaRatio && <small> {t('pair.painted', { ratio: sayAreaRatio(exposedRatio) })}</small>}
          </dd>
        </div>
      </dl>
      <p className="pair-reason">{said}</p>
      {pair.whenFilmLost.map((lost) => (
        <WithoutFilm key={lost.active} lost={lost} />
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

function WithoutFilm({ lost }: { lost: FilmLost }) {
  return (
    <p className="pair-film small">
      <Trans
        t={t}
        i18nKey="pair.filmLost"
        values={{ metal: lost.active, role: roleOf(lost), delta: sayDelta(lost.deltaVolts) }}
        components={{ 1: <strong /> }}
      />{' '}
      <JudgementTag judgement={judgeGrade(lost.grade)} />
    </p>
  )
}

function roleOf({ active, anode, areRolesCertain }: FilmLost): string {
  if (!areRolesCertain) return t('pair.role.either')
  return anode === active ? t('pair.role.anode') : t('pair.role.cathode')
}
