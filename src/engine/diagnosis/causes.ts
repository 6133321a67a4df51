/** Causes of abnormal wear that compete for a finding. The keys are part of the public contract. */
export const CAUSES = [
  'stray-current-onboard',
  'stray-current-shore',
  'wrong-alloy-for-water',
  'alloy-not-as-declared',
  'no-electrical-contact',
  'passivated',
  'mixed-alloys',
  'undersized',
  'mechanical-loss',
  'berth-environment',
] as const
export type Cause = (typeof CAUSES)[number]
