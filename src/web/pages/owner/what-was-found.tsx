import { Link } from 'react-router'
import english from '../../../messages/en/owner.json' with { type: 'json' }
import { likelihoodOf } from '../../../presentation/likelihood.js'
import type { Finding } from '../../api/findings.js'
import { sayDay } from '../../wording/days.js'
import { type OwnerWords, sayPosition, useOwnerWords, wordOr } from './owner-words.js'

/** What is not settled on a boat, for somebody who never held a meter. */
export function WhatWasFound({ findings }: { findings: readonly Finding[] }) {
  const t = useOwnerWords()
  if (findings.length === 0) return <p className="your-boat-main">{t('found.none')}</p>
  return (
    <>
      <ul className="your-boat-found">
        {findings.map((finding) => (
          <li key={finding.id}>
            <strong>{sayWhat(finding, t)}</strong>{' '}
            {finding.onset !== null && t('found.since', { day: sayDay(finding.onset.p50) })} {sayWhy(finding, t)}{' '}
            <Link className="your-boat-link" to={`/findings/${finding.id}`}>
              {t('found.more')}
              <span className="unseen">: {sayWhat(finding, t)}</span>
            </Link>
          </li>
        ))}
      </ul>
      <p>{t('found.ask')}</p>
    </>
  )
}

export function sayWhat({ scope, direction, anode }: Finding, t: OwnerWords): string {
  if (direction === 'other') return t('found.other')
  return t(`found.${scope}${direction === 'fast' ? 'Fast' : 'Slow'}`, { anode: sayPosition(anode ?? '', t) })
}

/** The likeliest cause and how likely it is; nothing where none can be named. */
export function sayWhy({ causes, confirmedCause }: Finding, t: OwnerWords): string {
  const say = (cause: string) => wordOr(english.cause, cause, (key) => t(`cause.${key}`))
  if (confirmedCause !== null) return t('found.confirmed', { cause: say(confirmedCause) })
  const [first] = causes
  if (first === undefined) return ''
  const how = t(`likely.${likelihoodOf(first.probability)}`)
  return t('found.maybe', { cause: say(first.cause), how })
}
