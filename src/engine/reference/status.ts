/**
 * How far a published value can be trusted: read in the named source, partly read (the note says which part), recalled
 * from memory (check before relying on it), worked out here, assumed or corrected (the note says how), common practice
 * of the trade, or true by definition.
 */
export type Status =
  | 'verified'
  | 'verified-in-part'
  | 'memory'
  | 'computed'
  | 'assumed'
  | 'corrected'
  | 'common practice'
  | 'definition'
