import { Caution } from '../../shell/caution.js'
import { useLiftWords } from './lift-words.js'

const KEYS = ['leak', 'survey', 'paint'] as const

/** Cautions that a lift calls for, by their keys. */
export function LiftCautions({ keys }: { keys: readonly string[] }) {
  const t = useLiftWords()
  return KEYS.filter((key) => keys.includes(key)).map((key) => (
    <Caution key={key} grade={key === 'paint' ? 'mind' : 'stop'}>
      <strong>{t(`${key}.title`)}</strong> {t(`${key}.text`)}
    </Caution>
  ))
}
