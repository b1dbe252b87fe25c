import type { Stance } from '#core/criteria/stance.ts'
import type { Dimension } from '#core/model/values.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { ended } from '../words.ts'
import { airflowNotes } from './airflow-notes.ts'

/** Filters where nothing else is said. */
export type Progress = { measured: number; planned: number; of?: 'terminals' | 'points' }
type Deciding = Held & { subject: string; more: number; progress: Progress }

const HELD_ON = { supply_duct: 'Supply flow of the duct', return: 'Return flow', exhaust: 'Exhaust flow' } as const

/** A criterion by its title, and the place that it is held at where that is no filter. */
export type Held = { title: string; stance?: Pick<Stance, 'at'> | undefined }

/**
 * What a criterion is called where it is held. Its title may speak of filters; of a grille or duct only the design flow that was written down for
 * it is asked, and that is what it is called there.
 */
export function criterionName({ title, stance }: Held): string {
  const of = stance?.at?.of ?? null
  return of === null || of === 'filter' ? title : `${HELD_ON[of]} against its design`
}

function several(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`
}

function andMore(more: number): string {
  return more > 0 ? `, and ${more} more` : ''
}

const NOUNS = { filters: ['filter', 'filters'], terminals: ['terminal', 'terminals'], points: ['point', 'points'] } as const

function planned(progress: Progress): string {
  const [one, many] = NOUNS[progress.of ?? 'filters']
  return several(progress.planned, one, many)
}

type Shown = { value: number | null; low: number | null; high: number | null; dimension: Dimension }

function figureWords(figure: Shown, f: Formatter): string {
  const { value, low, high, dimension } = figure
  if (value === null) return ''
  const limit = low !== null && (high === null || value < low) ? low : high
  if (limit === null) return ` (${f.quantity(value, dimension)})`
  const shown = f.against(value, limit, dimension)
  return limit === low ? ` (${shown.value}, at least ${shown.limit})` : ` (${shown.value}, at most ${shown.limit})`
}

export type Failing = Deciding & { figure: Shown }

/** What fails, where and by how much. The room's own name is left out where the sentence has said it. */
export function failingWords(p: Failing, f: Formatter, room: string | null = null): string {
  const where = p.subject === room ? '' : `${p.subject}, `
  return `${where}${criterionName(p)}${figureWords(p.figure, f)}${andMore(p.more)}`
}

/** What is to be said about a filter's readings, and one sentence for a run. */
export const results = {
  ...airflowNotes,
  'note.closed': (p: { because: string }) => `Closed: ${ended(p.because)} Counts as zero flow.`,
  'note.closed_but_measured': (p: { because: string }) => `Marked as closed (${p.because}), yet it has readings; these are used.`,
  'note.incomplete': (p: { measured: number; planned: number }) => `Not complete: ${p.measured} of ${p.planned} points measured.`,
  'note.fewer_samples': (p: { points: number; lacking: number; perPoint: number }) =>
    `${several(p.lacking, 'sample is', 'samples are')} missing of ${p.perPoint} planned at each point: ${several(p.points, 'point has', 'points have')} fewer. The mean of such a point is over those that are there.`,
  'note.above_range': (p: { readings: number }) =>
    `${several(p.readings, 'reading lies', 'readings lie')} above the range of the instrument or its calibration and ${p.readings === 1 ? 'is' : 'are'} left out.`,
  'note.below_range': (p: { points: number }) =>
    `${several(p.points, 'point lies', 'points lie')} below the range of the instrument or its calibration.`,
  'note.short_averaging': (p: { readings: number; leastS: number }, f: Formatter) =>
    `${several(p.readings, 'reading is', 'readings are')} marked as averaged too short; the criteria ask for at least ${f.quantity(p.leastS, 'duration')} at each point.`,
  'note.reversed': (p: { points: number }) => `Air flowed the wrong way at ${several(p.points, 'point', 'points')}.`,
  'note.carried': (_p: Record<string, never>) => 'Carried from as found.',
  'note.voided': (p: { readings: number }) => `${several(p.readings, 'reading', 'readings')} voided.`,
  'note.corrected': (p: { factor: number; because: string }) => `Flow is multiplied by ${p.factor}: ${ended(p.because)}`,
  'headline.pass': (p: { criteria: number; progress: Progress }) =>
    `Pass: ${several(p.criteria, 'criterion is', 'criteria are')} met on ${planned(p.progress)}.`,
  'headline.fail': (p: Failing, f: Formatter) => `Fail: ${failingWords(p, f)}.`,
  'headline.not_valid': (p: Deciding) =>
    `Not valid: ${p.subject}, ${criterionName(p)}${andMore(p.more)}; an instrument was not in calibration.`,
  'headline.inconclusive': (p: Deciding) =>
    `Inconclusive: ${p.subject}, ${criterionName(p)}${andMore(p.more)}; too close to the limit to tell.`,
  'headline.not_tested': (p: Deciding) =>
    `Not tested: ${p.subject}, ${criterionName(p)}${andMore(p.more)}; ${p.progress.measured} of ${planned(p.progress)} begun or done.`,
  'headline.no_criteria': (p: { progress: Progress }) =>
    `Not tested: no criterion applies; ${p.progress.measured} of ${planned(p.progress)} begun or done.`,
}
