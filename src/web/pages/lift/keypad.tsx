import { useEffect, useRef } from 'react'
import { currentLocale } from '../../wording/locale.js'
import { useLiftWords } from './lift-words.js'
import type { PadKey } from './typing.js'

const KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'erase'] as const

/** Twelve keys a thumb wide. A keyboard, or a scale that types, works as well. */
export function Keypad({ onKey }: { onKey: (key: PadKey) => void }) {
  const t = useLiftWords()
  const press = useRef(onKey)
  press.current = onKey
  useEffect(() => {
    const onDown = (event: KeyboardEvent) => {
      const key = keyOf(event)
      if (key === undefined) return
      event.preventDefault()
      press.current(key)
    }
    document.addEventListener('keydown', onDown)
    return () => document.removeEventListener('keydown', onDown)
  }, [])
  const point = (1.5).toLocaleString(currentLocale()).charAt(1)
  return (
    <div className="keypad">
      {KEYS.map((key) => (
        <button
          key={key}
          type="button"
          onClick={() => onKey(key)}
          {...(key === 'erase' && { 'aria-label': t('anode.erase') })}
          {...(key === '.' && { 'aria-label': t('anode.decimal') })}
        >
          {key === 'erase' ? <Erase /> : key === '.' ? point : key}
        </button>
      ))}
    </div>
  )
}

function keyOf({ key, target, ctrlKey, metaKey, altKey }: KeyboardEvent): PadKey | undefined {
  if (ctrlKey || metaKey || altKey || isTyping(target)) return undefined
  if (key === 'Backspace') return 'erase'
  if (key === ',') return '.'
  return KEYS.find((each) => each === key)
}

/** In a field of its own, or choosing among radio buttons, the keys are somebody else's. */
function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.matches('input:not([type=radio], [type=checkbox]), textarea, select')
}

function Erase() {
  return (
    <svg viewBox="0 0 28 20" aria-hidden="true">
      <path d="M9 2h17v16H9L2 10Z M13 7l7 6m0-6-7 6" fill="none" stroke="currentColor" strokeWidth="2.200" />
    </svg>
  )
}
