/** Labels of one sheet of A4: a common format of label sheets, 21 of 63.5 mm × 38.1 mm. */
export const LABELS_A_SHEET = 21

/**
 * The dark dots of a QR code as one path, a unit a dot, for drawing in an SVG.
 *
 * @param dots rows of dots, dark where true
 */
export function dotsPath(dots: readonly (readonly boolean[])[]): string {
  return dots
    .flatMap((row, y) =>
      row.flatMap((isDark, x) => {
        if (!isDark || row[x - 1] === true) return []
        const end = row.findIndex((dark, at) => at > x && !dark)
        return `M${x} ${y}h${(end === -1 ? row.length : end) - x}v1H${x}z`
      }),
    )
    .join('')
}

/** The boats of each sheet, in order. */
export function sheetsOf<Item>(items: readonly Item[]): Item[][] {
  const count = Math.ceil(items.length / LABELS_A_SHEET)
  return Array.from({ length: count }, (_, sheet) => items.slice(sheet * LABELS_A_SHEET, (sheet + 1) * LABELS_A_SHEET))
}
