import { readFileSync } from 'node:fs'
import { message, say } from '#core/messages/say.ts'
import { BudgetFigure, type FigureBudget } from '#core/model/budgets.ts'
import { CriteriaSet } from '#core/model/criteria.ts'
import type { VerdictCounts } from '#core/model/results.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { refuseHeld } from '../project-file/held.ts'
import { problem } from '../project-file/problem.ts'
import { chosenVisits } from './evaluate.ts'
import type { Client } from './run.ts'
import { sentences, type Told } from './told.ts'

export type BudgetInquiry = {
  readonly certification: string | null
  readonly room: string | null
  readonly filter: string | null
  readonly figure: string | null
}

function figureAsked({ figure, filter }: BudgetInquiry): BudgetFigure {
  if (figure === null) return filter === null ? 'air_changes' : 'mean_velocity'
  const read = BudgetFigure.safeParse(figure.replaceAll('-', '_'))
  if (!read.success) throw problem('invalid_input', message('cli.no_such_figure', { name: figure, known: [...BudgetFigure.options] }))
  return read.data
}

function budgetLines(budget: FigureBudget, f: Formatter): string[] {
  const words = sentences(f)
  const { figure, subject, dimension, coverage, usedDegreesOfFreedom } = budget
  return [
    words(message('budget.title', { figure, subject })),
    `  ${words(message('budget.result', budget))}`,
    `  ${words(message('budget.combined', budget))}`,
    `  ${words(message('budget.coverage', { coverage, degrees: { used: usedDegreesOfFreedom } }))}`,
    ...budget.lines.flatMap((line) => {
      const source = words(message('budget.source', line))
      const contribution = words(message('budget.contribution', { contribution: line.contribution, dimension }))
      const share = words(message('budget.share', { percent: line.sharePercent }))
      return [`  ${source}: ${contribution}, ${share}`, ...line.origin.map((origin) => `    ${words(origin)}`)]
    }),
  ]
}

/** The uncertainty budget of a figure of a filter, zone or room, line by line, in the run that counts. */
export async function budgetInquiry(client: Client, inquiry: BudgetInquiry, f: Formatter): Promise<Told> {
  const { certification, room, filter } = inquiry
  if (room === null) throw problem('invalid_input', message('cli.missing_argument', { name: '--room', command: 'budget' }))
  const figure = figureAsked(inquiry)
  const [visit] = await chosenVisits(client, { certification, all: false })
  const entity = (await client.entities.list({ kinds: ['room'], within: null })).find(
    (one) => one.kind === 'room' && one.body.number === room,
  )
  if (!visit || !entity) throw problem('not_found', message('cli.no_such_room', { name: room }))
  const { state, results } = await client.evaluation.room({ certificationId: visit.id, roomId: entity.id })
  const current = new Set(state.runs.filter((run) => run.current).map(({ runId }) => runId))
  const subjects = results
    .filter(({ runId }) => current.has(runId))
    .flatMap((result) => {
      if (filter === null) return [{ runId: result.runId, subjectId: entity.id }]
      const own = result.filters.filter(({ tag }) => tag === filter).map(({ terminalId }) => terminalId)
      const zones = result.zones.filter(({ name }) => name === filter).map(({ zoneId }) => zoneId)
      return [...own, ...zones].map((subjectId) => ({ runId: result.runId, subjectId }))
    })
  if (subjects.length === 0) throw problem('not_found', message('cli.no_such_filter', { name: filter ?? room }))
  const budgets = await Promise.all(subjects.map((subject) => client.evaluation.budget({ ...subject, figure })))
  const known = budgets.filter((budget) => budget !== null)
  if (known.length === 0) return { json: [], lines: [say('en', f, 'budget.none', {})] }
  return { json: known, lines: known.flatMap((budget) => budgetLines(budget, f)) }
}

export type PreviewInquiry = { readonly certification: string | null; readonly criteria: string | null; readonly set: string | null }

function criteriaFrom(path: string): CriteriaSet {
  refuseHeld(path, 'criteria')
  let written: unknown
  try {
    written = JSON.parse(readFileSync(path, 'utf8'))
  } catch {
    throw problem('invalid_input', message('cli.unreadable_criteria', { path }))
  }
  const read = CriteriaSet.safeParse(written)
  const [issue] = read.success ? [] : read.error.issues
  if (issue) throw problem('invalid_input', message('cli.broken_criteria', { path, field: issue.path.join('.'), problem: issue.message }))
  if (!read.success) throw problem('invalid_input', message('cli.unreadable_criteria', { path }))
  return read.data
}

function countWords(counts: VerdictCounts): string {
  const present = Object.entries(counts).filter(([, count]) => count > 0)
  return present.map(([verdict, count]) => `${count} ${verdict.replaceAll('_', ' ')}`).join(', ') || '0'
}

/** What would change in the verdicts of a certification if a criteria set read as in a file; changes nothing. */
export async function previewInquiry(client: Client, { certification, criteria, set }: PreviewInquiry, f: Formatter): Promise<Told> {
  if (criteria === null) throw problem('invalid_input', message('cli.missing_argument', { name: '--criteria', command: 'preview' }))
  const body = criteriaFrom(criteria)
  const wanted = set ?? body.name
  const sets = await client.entities.list({ kinds: ['criteria_set'], within: null })
  const own = sets.find((entity) => entity.kind === 'criteria_set' && entity.body.name === wanted)
  if (!own) throw problem('not_found', message('cli.no_such_set', { name: wanted }))
  const words = sentences(f)
  const [visit] = await chosenVisits(client, { certification, all: false })
  if (!visit) return { json: null, lines: [words(message('cli.no_certification', {}))] }
  const preview = await client.criteria.preview({ certificationId: visit.id, criteriaSetId: own.id, body })
  const { rooms, filters, changed } = preview
  const by = (calculationChanged: boolean) => (calculationChanged ? ` (${words(message('criteria.preview.calculation', {}))})` : '')
  const lines = [
    words(message('cli.preview.about', { certification: visit.body.name, set: wanted })),
    words(message('criteria.preview.reach', preview)),
    `${words(message('criteria.preview.of_rooms', {}))}: ${countWords(rooms.asJudged)} -> ${countWords(rooms.underDraft)}`,
    `${words(message('criteria.preview.of_filters', {}))}: ${countWords(filters.asJudged)} -> ${countWords(filters.underDraft)}`,
    ...rooms.changed.map(
      ({ label, asJudged, underDraft, headline, calculationChanged }) =>
        `${words(message('cli.preview.turned', { label, of: { asJudged, underDraft } }))}${by(calculationChanged)} ${words(headline)}`,
    ),
    ...changed.flatMap(({ label, criteria: turned }) =>
      turned.map(
        ({ title, asJudged, underDraft, reason, calculationChanged }) =>
          `  ${words(message('cli.preview.turned', { label: `${label}, ${title}`, of: { asJudged, underDraft } }))}${by(calculationChanged)} ${words(reason)}`,
      ),
    ),
    ...(changed.length === 0 ? [words(message('criteria.preview.same', {}))] : []),
  ]
  return { json: { certification: visit.body.name, set: wanted, ...preview }, lines }
}
