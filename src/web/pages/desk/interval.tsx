interface Rate {
  readonly low: number
  readonly middle: number
  readonly high: number
}

const WIDTH = 200
const HEIGHT = 24
/** At least so much either way, so that small differences look small. */
const LEAST_FACTOR = 1.5

/** Where a factor lies on the width: logarithmic, the fleet in the middle. */
export function intervalScale(factors: readonly number[]): (factor: number) => number {
  const widest = Math.max(Math.log(LEAST_FACTOR), ...factors.map((factor) => Math.abs(Math.log(factor))))
  return (factor) => WIDTH * (0.5 + Math.log(factor) / widest / 2.1)
}

interface IntervalProps {
  rate: Rate
  scale: (factor: number) => number
  label: string
}

/** A rate with its interval beside the fleet's line: filled where it clears the line, hollow where it does not. */
export function Interval({ rate, scale, label }: IntervalProps) {
  const [low, middle, high] = [scale(rate.low), scale(rate.middle), scale(rate.high)]
  const isUnsure = rate.low <= 1 && rate.high >= 1
  const way = rate.middle > 1 ? 'fast' : 'slow'
  return (
    <svg className="interval" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={label}>
      <path className="interval-fleet" d={`M${WIDTH / 2} 0v${HEIGHT}`} />
      <g className={isUnsure ? 'interval-unsure' : `interval-${way}`}>
        <path d={`M${low} ${HEIGHT / 2}H${high}M${low} 7v10M${high} 7v10`} />
        <circle cx={middle} cy={HEIGHT / 2} r="5" />
      </g>
    </svg>
  )
}
