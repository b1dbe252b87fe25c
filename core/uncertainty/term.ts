/** How the possible values of a term are spread, as far as a budget says it. */
export const DISTRIBUTIONS = ['normal', 'student', 'rectangular', 'triangular', 'u_shaped'] as const
export type Distribution = (typeof DISTRIBUTIONS)[number]

/** What a term stands for; the words are in the message catalogue. */
export const TERM_SOURCES = [
  'calibration',
  'accuracy',
  'drift',
  'interpolation',
  'resolution',
  'spatial',
  'repeat',
  'traverse_rule',
  'hood_factor',
  'flow_element',
  'correction_factor',
  'area',
  'volume',
  'density',
  'other',
] as const
export type TermSource = (typeof TERM_SOURCES)[number]

/**
 * One line of an uncertainty budget. Its standard uncertainty is value / divisor in the unit of the input; sensitivity (with sign) times that is
 * its contribution in the unit of the result. Terms of the same non-null `group` are the same unknown error seen several times: fully
 * correlated, they add with their signs.
 */
export type Term = {
  readonly source: TermSource
  /** whose term it is: a terminal, an instrument, a model; for the reader */
  readonly of: string | null
  readonly value: number
  readonly distribution: Distribution
  readonly divisor: number
  readonly sensitivity: number
  /** above zero, infinity for a term judged certain of its size */
  readonly degreesOfFreedom: number
  readonly group: string | null
}

/** Divisors that turn half a width into a standard uncertainty. Source: GUM (JCGM 100:2008) 4.3.7, 4.3.9; u-shaped: common practice. */
export const HALF_WIDTH_DIVISOR = { rectangular: Math.sqrt(3), triangular: Math.sqrt(6), u_shaped: Math.SQRT2 } as const

/** Standard uncertainty of a term in the unit of its input. */
export function standardUncertainty(term: Term): number {
  return term.value / term.divisor
}

/** What a term adds, in the unit of the result, with the sign of its sensitivity. */
export function contributionOf(term: Term): number {
  return term.sensitivity * standardUncertainty(term)
}

/**
 * The terms of a quantity as terms of another that depends on it with this sensitivity (the partial derivative, with sign): the chain rule, by
 * which a room's flow is built from its filters'. Source: GUM 5.1.
 */
export function scaleTerms(terms: readonly Term[], sensitivity: number): Term[] {
  return terms.map((term) => ({ ...term, sensitivity: term.sensitivity * sensitivity }))
}

/** A term given as half the width of a rectangle within which the value certainly lies. Source: GUM 4.3.7. */
export function rectangularTerm(source: TermSource, of: string | null, halfWidth: number, group: string | null = null): Term {
  return {
    source,
    of,
    value: halfWidth,
    distribution: 'rectangular',
    divisor: HALF_WIDTH_DIVISOR.rectangular,
    sensitivity: 1,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    group,
  }
}

/** A term given as a standard uncertainty, of a normal distribution unless it is known better. */
export function standardTerm(
  source: TermSource,
  of: string | null,
  standardUncertaintyOfInput: number,
  degreesOfFreedom = Number.POSITIVE_INFINITY,
  group: string | null = null,
): Term {
  return { source, of, value: standardUncertaintyOfInput, distribution: 'normal', divisor: 1, sensitivity: 1, degreesOfFreedom, group }
}

/** A term given as an expanded uncertainty U and its coverage factor k: a certificate. Source: GUM 4.3.3. */
export function expandedTerm(
  source: TermSource,
  of: string | null,
  expanded: number,
  coverageFactor: number,
  group: string | null = null,
): Term {
  return {
    source,
    of,
    value: expanded,
    distribution: 'normal',
    divisor: coverageFactor,
    sensitivity: 1,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    group,
  }
}
