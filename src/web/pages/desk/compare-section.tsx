import { COMPARED_BY, type Comparisons } from '../../../contract/desk.js'
import { useComparisons } from '../../api/desk.js'
import { Choice } from './choice.js'
import { DeskState } from './desk-state.js'
import { type DeskWords, sayFactor, sayPosition, saySigned, useDeskWords } from './desk-words.js'
import { Interval, intervalScale } from './interval.js'
import type { DeskQuery } from './use-desk-query.js'

type By = Comparisons['by']
type Compared = Comparisons['items'][number]

/** Which berths, pontoons, alloys and positions waste anodes faster than the fleet. */
export function CompareSection({ desk }: { desk: DeskQuery }) {
  const t = useDeskWords()
  const by = COMPARED_BY.find((each) => each === desk.get('compareBy')) ?? 'berth'
  const comparisons = useComparisons(by)
  return (
    <>
      <div className="desk-sum">
        <Choice
          label={t('compare.by')}
          value={by}
          choices={COMPARED_BY.map((each) => [each, t(`compare.${each}`)] as const)}
          onChange={(next) => desk.set({ compareBy: next === 'berth' ? '' : next })}
        />
        <a className="button button-plain" href={`/v1/desk/comparisons.csv?by=${by}`} download>
          {t('csv')}
        </a>
      </div>
      <DeskState of={comparisons} />
      {comparisons.data && <ComparedTable comparisons={comparisons.data} />}
    </>
  )
}

function ComparedTable({ comparisons: { by, items } }: { comparisons: Comparisons }) {
  const t = useDeskWords()
  const scale = intervalScale(items.flatMap(({ rate }) => (rate === null ? [] : [rate.low, rate.high])))
  return (
    <>
      <table className="desk-compare">
        <thead>
          <tr>
            <th scope="col">{t(`compare.${by}`)}</th>
            <th scope="col" colSpan={2}>
              {t('compare.rate')}
            </th>
            <th scope="col">{t('compare.span')}</th>
          </tr>
        </thead>
        <tbody>
          {items.map((item) => (
            <tr key={item.group}>
              <th scope="row">
                {sayGroup(by, item.group, t)}
                <span className="soft small">
                  {t('compare.count', {
                    boats: t('boats', { count: item.boats }),
                    anodes: t('anodes', { count: item.anodes }),
                  })}
                </span>
              </th>
              <RateCells item={item} name={sayGroup(by, item.group, t)} scale={scale} />
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft small desk-note">{t('compare.note')}</p>
    </>
  )
}

interface RateCellsProps {
  item: Compared
  name: string
  scale: ReturnType<typeof intervalScale>
}

function RateCells({ item: { rate }, name, scale }: RateCellsProps) {
  const t = useDeskWords()
  if (rate === null) {
    return (
      <td colSpan={3} className="soft">
        {t('compare.unknown')}
      </td>
    )
  }
  const isUnsure = rate.low <= 1 && rate.high >= 1
  const said = sayFactor(rate.middle, t)
  return (
    <>
      <td className="desk-interval">
        <Interval rate={rate} scale={scale} label={t('compare.plot', { group: name, rate: said })} />
      </td>
      <td>
        <strong>{said}</strong>
        {isUnsure && <span className="soft small">{t('compare.unsure')}</span>}
      </td>
      <td>{t('compare.to', { low: saySigned(rate.low), high: saySigned(rate.high) })}</td>
    </>
  )
}

type Alloys = 'zinc' | 'aluminium' | 'magnesium'

function sayGroup(by: By, group: string, t: DeskWords): string {
  if (by === 'alloy') return t(`alloy.${group as Alloys}`, { ns: 'words' })
  return by === 'position' ? sayPosition(group, t) : group
}
