import type { ComparisonRow, Sentence } from '#core/model/results.ts'

const CODE = {
  ofRoom: new Set(['summary.fails', 'summary.retested', 'summary.air_changes_fell', 'summary.other_basis']),
  ofTags: new Set(['summary.loading', 'summary.replaced']),
}

const namesIn = (text: unknown): string[] => (typeof text === 'string' ? text.split(', ') : [])
const hasBreak = (row: ComparisonRow, codes: readonly string[]) => row.breaks.some((sentence) => codes.includes(sentence.code))

/** The rows that a sentence of the summary speaks of: its evidence. Empty when it speaks of none in particular. */
export function evidenceOf(sentence: Sentence, rows: readonly ComparisonRow[]): ComparisonRow[] {
  const { code, params } = sentence
  if (CODE.ofRoom.has(code)) {
    const room = rows.find((row) => row.kind === 'room' && row.label === params.room)
    return room ? [room, ...rows.filter((row) => row.kind === 'filter' && row.roomId === room.id)] : []
  }
  if (CODE.ofTags.has(code)) {
    // Long lists name only the first; of replaced filters the rows themselves know the rest.
    if (code === 'summary.replaced') return rows.filter((row) => row.kind === 'filter' && hasBreak(row, ['break.element']))
    const tags = new Set(namesIn(params.tags))
    return rows.filter((row) => row.kind === 'filter' && tags.has(row.label))
  }
  switch (code) {
    case 'summary.unsettled':
      return rows.filter((row) => row.kind === 'room' && ['not_tested', 'not_valid', 'inconclusive'].includes(row.verdictNow))
    case 'summary.instruments':
      return rows.filter((row) => row.kind === 'room' && hasBreak(row, ['break.instrument']))
    case 'summary.criteria':
      return rows.filter((row) => row.kind === 'room' && hasBreak(row, ['break.criteria', 'break.zone_criteria']))
    case 'summary.calculation_changed':
      return rows.filter((row) => row.differsFromSigned)
    default:
      return []
  }
}

/** How loud a sentence of the summary is: what fails, what was or is not settled, what is worth knowing. */
export function weightOf(code: string): 'fail' | 'warn' | 'know' {
  if (code === 'summary.fails') return 'fail'
  return ['summary.unsettled', 'summary.air_changes_fell', 'summary.calculation_changed', 'summary.loading'].includes(code)
    ? 'warn'
    : 'know'
}
