import { useId } from 'react'
import { sayPercent } from '../../wording/amounts.js'
import { t } from './fleet-words.js'
import './anode-gauge.css'

const WIDTH = 120
const HEIGHT = 26

interface AnodeGaugeProps {
  consumed: number
  threshold: number
}

/** An anode seen from the side: the metal left, what is wasted hatched, a notch where it is due. */
export function AnodeGauge({ consumed, threshold }: AnodeGaugeProps) {
  const hatch = useId()
  const left = WIDTH * Math.min(1, Math.max(0, 1 - consumed))
  const due = WIDTH * (1 - threshold)
  return (
    <svg
      className="anode-gauge"
      viewBox={`-2 -4 ${WIDTH + 4} ${HEIGHT + 8}`}
      role="img"
      aria-label={t('gauge', { consumed: sayPercent(consumed), threshold: sayPercent(threshold) })}
    >
      <defs>
        <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="2" height="6" className="anode-gauge-hatch" />
        </pattern>
      </defs>
      <rect width={WIDTH} height={HEIGHT} rx="7" fill={`url(#${hatch})`} className="anode-gauge-outline" />
      <rect width={left} height={HEIGHT} rx="7" className="anode-gauge-metal" />
      <path d={`M${due} -4v${HEIGHT + 8}`} className="anode-gauge-due" />
    </svg>
  )
}
