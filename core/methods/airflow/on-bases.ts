import { RELATIVE_TOLERANCE } from '#core/criteria/compare-limit.ts'
import type { PreparedCriterion } from '#core/criteria/prepare.ts'
import { message } from '#core/messages/say.ts'
import type { ByBasis, OnBasis, Sentence } from '#core/model/results.ts'
import type { Basis } from '#core/model/values.ts'
import { type AreaFigures, areaFigures } from './area-figures.ts'
import { type FilterFigures, type FilterSetting, filterFigures } from './filter-figures.ts'
import type { Gathered } from './gather.ts'
import type { NoBasis, OtherBasis } from './instrument-conversion.ts'

/** The same figures on each basis, or why they cannot be had there. Where nothing differs the three are one object. */
export type OnBases<T> = {
  readonly as_indicated: T
  readonly standard: T | { readonly missing: NoBasis }
  readonly actual: T | { readonly missing: NoBasis }
  /** the basis of the main figures: actual where it is known and something was measured, else as indicated */
  readonly main: Basis
}

function isMissing(figures: object): figures is { readonly missing: NoBasis } {
  return 'missing' in figures
}

/** The figures on a basis; null where they cannot be had. */
export function figuresOn<T extends object>(on: OnBases<T>, basis: Basis): T | null {
  const figures = on[basis]
  return isMissing(figures) ? null : figures
}

/** Why there are no figures on a basis; null where there are. */
export function lackOn<T extends object>(on: OnBases<T>, basis: Basis): NoBasis | null {
  const figures = on[basis]
  return isMissing(figures) ? figures.missing : null
}

/** The main figures. */
export function mainOf<T extends object>(on: OnBases<T>): T {
  return figuresOn(on, on.main) ?? on.as_indicated
}

/** Whether all these readings speak of standard air of one density; one whose density is not stated is like no other. */
function shareOneStandard(filters: readonly Gathered[]): boolean {
  let first: number | null | undefined
  for (const { readings } of filters)
    for (const { use } of readings) {
      const { standardKgpm3 } = use.conversion
      if (first === undefined) first = standardKgpm3
      else if (standardKgpm3 === null || first === null) {
        if (standardKgpm3 !== first) return false
      } else if (Math.abs(standardKgpm3 - first) > RELATIVE_TOLERANCE * first) return false
    }
  return true
}

/** A terminal's figures on every basis. */
export function filterOnBases(of: Gathered, setting: FilterSetting): OnBases<FilterFigures> {
  const indicated = filterFigures(of, setting)
  const on = (basis: OtherBasis): FilterFigures | { readonly missing: NoBasis } => {
    const { means, missing } = of[basis]
    if (missing) return { missing }
    if (basis === 'standard' && of.readings.length > 1 && !shareOneStandard([of])) return { missing: 'standards_differ' }
    return means === of.means ? indicated : filterFigures(of, setting, means)
  }
  const actual = on('actual')
  return {
    as_indicated: indicated,
    standard: on('standard'),
    actual,
    main: isMissing(actual) || of.numbers.length === 0 ? 'as_indicated' : 'actual',
  }
}

/**
 * Figures of several terminals together, on every basis that all of them have. Of standard air there are none where the instruments mean different
 * standard air by it: flows told at two densities are no sum.
 */
export function areaOnBases(filters: readonly OnBases<FilterFigures>[], mayReadReverse: boolean): OnBases<AreaFigures> {
  const indicated = areaFigures(
    filters.map((filter) => filter.as_indicated),
    mayReadReverse,
  )
  const on = (basis: OtherBasis): AreaFigures | { readonly missing: NoBasis } => {
    const own: FilterFigures[] = []
    let differs = false
    for (const filter of filters) {
      const figures = filter[basis]
      if (isMissing(figures)) return figures
      if (figures !== filter.as_indicated) differs = true
      own.push(figures)
    }
    if (basis === 'standard' && !shareOneStandard(own.map(({ of }) => of))) return { missing: 'standards_differ' }
    return differs ? areaFigures(own, mayReadReverse) : indicated
  }
  const actual = on('actual')
  const measured = filters.some((filter) => filter.as_indicated.pointsMeasured > 0)
  return { as_indicated: indicated, standard: on('standard'), actual, main: isMissing(actual) || !measured ? 'as_indicated' : 'actual' }
}

/** Velocity and flow on each basis, side by side. */
export function byBasis<T extends object>(on: OnBases<T>, show: (figures: T) => OnBasis): ByBasis {
  const shown = (basis: OtherBasis) => {
    const figures = figuresOn(on, basis)
    return figures ? show(figures) : null
  }
  return { as_indicated: show(on.as_indicated), standard: shown('standard'), actual: shown('actual') }
}

function lackSentence({ title, source, stance }: PreparedCriterion, lack: NoBasis): Sentence {
  const params = { title, source, wanted: { basis: stance.basis } }
  switch (lack) {
    case 'conditions':
      return message('reason.no_conditions', params)
    case 'standard_condition':
      return message('reason.no_standard_condition', params)
    case 'standards_differ':
      return message('reason.standards_differ', params)
    case 'not_stated':
      return message('reason.basis_not_stated', params)
  }
}

/** The criterion as it reads where there is no figure on its basis: it applies, and cannot be judged. */
export function lacking(criterion: PreparedCriterion, lack: NoBasis | null): PreparedCriterion {
  return lack === null || criterion.unsettled ? criterion : { ...criterion, unsettled: lackSentence(criterion, lack), withoutFigure: true }
}
