/**
 * Bounds of the words for a probability. Intergovernmental Panel on Climate Change, Fourth Assessment Report (2007),
 * Working Group II, front matter, section F: likelihood of an outcome. "About as likely as not" is split at a half, with
 * "more likely than not" of Working Group I's technical summary.
 */
const LIKELIHOODS = [
  [0.99, 'virtually certain'],
  [0.9, 'very likely'],
  [0.66, 'likely'],
  [0.5, 'more likely than not'],
  [0.33, 'about as likely as not'],
  [0.1, 'unlikely'],
  [0.01, 'very unlikely'],
] as const

export type Likelihood = (typeof LIKELIHOODS)[number][1] | 'exceptionally unlikely'

/** The key of the words for a probability. @example likelihoodOf(0.81) // 'likely' */
export function likelihoodOf(probability: number): Likelihood {
  return LIKELIHOODS.find(([above]) => probability > above)?.[1] ?? 'exceptionally unlikely'
}
