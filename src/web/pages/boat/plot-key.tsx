interface PlotKeyProps {
  hasPredecessors: boolean
  hasOnset: boolean
}

/** What the marks of a depletion plot mean. */
export function PlotKey({ hasPredecessors, hasOnset }: PlotKeyProps) {
  return (
    <ul className="plot-key small" aria-label="Key of the drawing">
      <li className="key-weighing">weighing, with its error</li>
      <li className="key-curve">mass worked out, 8 of 10 within</li>
      <li className="key-due">threshold and when it is reached, 9 of 10 within</li>
      {hasOnset && <li className="key-onset">when abnormal wear began, 8 of 10 within</li>}
      {hasPredecessors && <li className="key-before">anodes before it</li>}
    </ul>
  )
}
