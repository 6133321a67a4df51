/** A column of a reference table as people and programs read it. */
export interface ReferenceColumn {
  readonly key: string
  readonly label: string
  /** `null` for words, counts and ratios. */
  readonly unit: string | null
}

/** The unit that the end of a field's name stands for; the longer ends first. */
const UNIT_OF_END: readonly (readonly [string, string])[] = [
  ['VAgAgcl', 'V Ag/AgCl'],
  ['GPerCm3', 'g/cm³'],
  ['AhPerKg', 'A·h/kg'],
  ['KgPerM3', 'kg/m³'],
  ['GPerMol', 'g/mol'],
  ['PerYear', '1/year'],
  ['APerM2', 'A/m²'],
  ['VSce', 'V SCE'],
  ['VShe', 'V SHE'],
  ['Psu', 'psu'],
  ['Dbar', 'dbar'],
  ['M', 'm'],
  ['V', 'V'],
  ['C', '°C'],
]

/** The column of a field: the unit is read off its name, as the engine writes it there. */
export function columnOf(key: string): ReferenceColumn {
  const spelled = key.charAt(0).toUpperCase() + key.slice(1)
  const end = UNIT_OF_END.find(([ending]) => spelled.endsWith(ending))
  if (end === undefined) return { key, label: inWords(spelled), unit: null }
  const [ending, unit] = end
  const rest = spelled.slice(0, -ending.length)
  return { key, label: rest === '' ? 'Potential' : inWords(rest), unit }
}

/** `protectedAtOrBelow` as "Protected at or below". */
function inWords(spelled: string): string {
  const words = spelled.replaceAll(
    /([a-z\d])([A-Z])/g,
    (_, before: string, after: string) => `${before} ${after.toLowerCase()}`,
  )
  return words.charAt(0).toUpperCase() + words.slice(1)
}
