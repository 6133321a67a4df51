/** A curve y = f(x; parameters), smooth in its parameters. */
export interface Curve {
  readonly parameters: readonly string[]
  /** f at x with ∂f/∂parameter, in the order of `parameters`. Not finite where the parameters are out of its domain. */
  at(x: number, parameters: readonly number[]): CurveValue
}

export interface CurveValue {
  readonly value: number
  readonly gradient: readonly number[]
}

export interface CurvePoint {
  readonly x: number
  readonly y: number
}

/** The curve with one parameter held at a value: what is left to fit along its profile. */
export function holding(curve: Curve, index: number, value: number): Curve {
  return {
    parameters: curve.parameters.filter((_, i) => i !== index),
    at: (x, free) => {
      const { value: y, gradient } = curve.at(x, [...free.slice(0, index), value, ...free.slice(index)])
      return { value: y, gradient: gradient.filter((_, i) => i !== index) }
    },
  }
}
