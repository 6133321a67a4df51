/** How far each way of judging an anode's mass may be off: biases and standard deviations, in shares that the names tell. */
export type WeighingErrors = {
  readonly resolutionVarianceShare: number
  readonly unknownResolutionG: number
  readonly repeatabilityShare: number
  readonly residueMeanShare: number
  readonly residueSdShare: number
  readonly unknownCleaningMeanShare: number
  readonly unknownCleaningSdShare: number
  readonly dimensionsBiasShare: number
  readonly dimensionsSdShare: number
  readonly visualBiasPoints: number
  readonly visualSdPoints: number
  readonly fittedSdShare: number
}

/** Defaults for a yard with no pairs of its own to learn from; each value says where it is from. */
export const WEIGHING_ERROR = {
  /** A reading is uniform within its last digit: variance r²/12. Source: JCGM 100:2008 (GUM), F.2.2.1. */
  resolutionVarianceShare: 1 / 12,
  /** A scale that names no resolution: a kitchen or parcel scale. Assumed. */
  unknownResolutionG: 5,
  /** Spread between two weighings of one cleaned anode, of the gross mass: water in pores, fasteners, a swinging hook. Assumed. */
  repeatabilityShare: 0.003,
  /**
   * Growth and soft corrosion product left on an uncleaned anode, of the net mass: it weighs too much by the mean, give or
   * take the spread. Assumed; ASTM G1 asks for cleaning to bare metal because of it.
   */
  residueMeanShare: 0.02,
  residueSdShare: 0.02,
  /** Whether it was cleaned is not known: half of the residue, and its whole spread. Assumed. */
  unknownCleaningMeanShare: 0.01,
  unknownCleaningSdShare: 0.02,
  /** Calipers and eye are not known to lean either way. Assumed; both are net mass read too high, in shares of it when new. */
  dimensionsBiasShare: 0,
  visualBiasPoints: 0,
  /** Calipers on a worn, uneven anode, of the net mass when fitted. Assumed. */
  dimensionsSdShare: 0.06,
  /** By eye: about ±10 points of the consumed fraction. Common practice. */
  visualSdPoints: 0.1,
  /** A new anode weighed when fitted, or its mass from a list: of the gross mass. Assumed. */
  fittedSdShare: 0.005,
} as const satisfies WeighingErrors
