import { message } from '#core/messages/say.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { roomQuestions } from '#core/rooms/what-if-of-run.ts'
import { createFormatter } from '#core/units/format.ts'
import type { Formatter } from '#core/units/formatter.ts'
import { problem } from '../project-file/problem.ts'
import { type BudgetInquiry, budgetInquiry, type PreviewInquiry, previewInquiry } from './criteria-inquiries.ts'
import { chosenVisits } from './evaluate.ts'
import { withSentences } from './json-form.ts'
import type { Client } from './run.ts'
import { sentences, type Told } from './told.ts'
import { traversesInquiry } from './traverses.ts'

/** What is asked about a project besides its evaluation, and how the answer is printed. */
export type Inquiry = BudgetInquiry & PreviewInquiry & { readonly instrument: string | null }

async function formatterOf(client: Client): Promise<Formatter> {
  const [project] = await client.entities.list({ kinds: ['project'], within: null })
  if (project?.kind !== 'project') throw problem('not_found', message('error.not_found', { what: 'project' }))
  return createFormatter(project.body.display, 'en', project.body.timeZone)
}

/** The air balance of the site and its air systems in the visit asked for, or the latest. */
async function balance(client: Client, { certification }: Inquiry, f: Formatter): Promise<Told> {
  const answers = []
  const lines: string[] = []
  const t = translator(f)
  for (const { id, body } of await chosenVisits(client, { certification, all: false })) {
    const site = await client.balance.site({ certificationId: id, facilityId: null })
    const { systems, basis } = await client.balance.systems({ certificationId: id, facilityId: null })
    answers.push({ certification: body.name, ...site, systems: { basis, systems } })
    lines.push(t('balance.about', { certification: body.name, of: site, kgpm3: site.standardKgpm3 }))
    lines.push(
      t('cli.balance.site', {
        supply: site.supplyM3ps,
        return: site.returnM3ps,
        exhaust: site.exhaustM3ps,
        offset: site.offsetM3ps,
        toOutside: site.toOutsideM3ps,
        unaccounted: site.unaccountedM3ps,
      }),
    )
    for (const { number, name, supplyM3ps, returnM3ps, exhaustM3ps, offsetM3ps, gap, missing } of site.rooms) {
      const flows = { supply: supplyM3ps, return: returnM3ps, exhaust: exhaustM3ps, offset: offsetM3ps }
      lines.push(`  ${t('cli.balance.room', { number, name, ...flows, gap, missing })}`)
    }
    for (const system of systems) {
      const { name, flowM3ps, designFlowM3ps, percentOfDesign, missing } = system
      lines.push(
        `  ${t('cli.balance.system', { name, of: system, flow: flowM3ps, design: designFlowM3ps, percent: percentOfDesign, missing })}`,
      )
    }
  }
  return { json: answers, lines: answers.length === 0 ? [t('cli.no_certification', {})] : lines }
}

/** Which filter, raised by how much, brings each room of the visit (or the one asked for) to its limits. */
async function whatIf(client: Client, { certification, room }: Inquiry, f: Formatter): Promise<Told> {
  const t = translator(f)
  const lines: string[] = []
  const answers: unknown[] = []
  const rooms = new Map((await client.entities.list({ kinds: ['room'], within: null })).map((entity) => [entity.id, entity]))
  for (const { id } of await chosenVisits(client, { certification, all: false })) {
    const state = await client.evaluation.certification({ certificationId: id })
    for (const { roomId, runs } of state.rooms) {
      const entity = rooms.get(roomId)
      if (entity?.kind !== 'room' || (room !== null && entity.body.number !== room)) continue
      const { number, name } = entity.body
      for (const { runId, current, zoneId } of runs) {
        if (!current || zoneId !== null) continue
        const result = await client.evaluation.run({ runId })
        const { pins } = await client.runs.get({ runId })
        const terminals = pins.flatMap((pin) => (pin.kind === 'terminal' ? [{ id: pin.id, body: pin.body }] : []))
        const questions = roomQuestions(result, terminals)
        const tags = new Map(result.filters.map(({ terminalId, tag }) => [terminalId, tag]))
        answers.push({ room: number, name, runId, questions })
        lines.push(t('cli.whatif.room', { number, name }))
        lines.push(...questionLines(questions, tags, t))
      }
    }
  }
  if (room !== null && answers.length === 0) throw problem('not_found', message('cli.no_such_room', { name: room }))
  return { json: answers, lines: [...lines, t('whatif.neighbours', {})] }
}

function questionLines(questions: ReturnType<typeof roomQuestions>, tags: ReadonlyMap<string, string>, t: Translate): string[] {
  if (questions.length === 0) return [`  ${t('whatif.no_limit', {})}`]
  return questions.flatMap((question) => {
    const { criterion, answer, missing, limit, undecidable } = question
    if (undecidable) return [`  ${t('whatif.undecidable', { title: criterion.title })}`]
    if (!answer) return [`  ${criterion.title}: ${missing.length > 0 ? t('whatif.missing', { missing }) : t('whatif.no_limit', {})}`]
    const { supplyM3ps, targetM3ps, changeM3ps, remedies } = answer
    const flows = { supply: supplyM3ps, target: targetM3ps, change: changeM3ps }
    const { title, dimension } = criterion
    return [
      `  ${t('whatif.lack', { title, limit, dimension, ...flows, of: question })}`,
      ...remedies.map((remedy) => {
        const { terminalId, fromM3ps, toM3ps, changePercent } = remedy
        const tag = tags.get(terminalId) ?? ''
        return `    ${t('cli.whatif.remedy', { tag, from: fromM3ps, to: toM3ps, percent: changePercent, of: remedy })}`
      }),
    ]
  })
}

/** Every run that an instrument found out of tolerance touched: as it stands, corrected, and without its readings. */
async function recalculate(client: Client, { instrument }: Inquiry, f: Formatter): Promise<Told> {
  const t = translator(f)
  if (instrument === null) throw problem('invalid_input', message('cli.missing_argument', { name: '--instrument', command: 'recalculate' }))
  const found = (await client.entities.list({ kinds: ['instrument'], within: null })).find((entity) => isNamed(entity, instrument))
  if (!found) throw problem('not_found', message('cli.no_such_instrument', { name: instrument }))
  const doubts = await client.recalculation.preview({ instrumentId: found.id })
  const lines = doubts.flatMap(({ certificateNumber, from, to, runs, points }) => [
    t('recalculation.title', { certificate: certificateNumber }),
    t('recalculation.about', { from, to, runs: runs.length }),
    t('recalculation.points', { points }),
    ...runs.map((run) => `  ${t('cli.recalculation.run', { ...run, of: run })}`),
    t('recalculation.nothing_rewritten', {}),
  ])
  return { json: doubts, lines: doubts.length === 0 ? [t('cli.recalculation.none', { instrument })] : lines }
}

function isNamed(entity: Entity, name: string): boolean {
  if (entity.kind !== 'instrument') return false
  const { serialNumber, name: ownName }: EntityBody<'instrument'> = entity.body
  return serialNumber === name || ownName === name
}

type Translate = ReturnType<typeof translator>
function translator(f: Formatter) {
  const words = sentences(f)
  return <C extends Parameters<typeof message>[0]>(code: C, params: Parameters<typeof message<C>>[1]): string => words({ code, params })
}

const INQUIRIES = {
  balance,
  'what-if': whatIf,
  recalculate,
  budget: budgetInquiry,
  preview: previewInquiry,
  traverses: traversesInquiry,
} as const
export type InquiryName = keyof typeof INQUIRIES

export function isInquiry(command: string): command is InquiryName {
  return command in INQUIRIES
}

/** Answers an inquiry as text, or as JSON in SI. */
export async function inquire(client: Client, name: InquiryName, inquiry: Inquiry, json: boolean): Promise<string> {
  const formatter = await formatterOf(client)
  const told = await INQUIRIES[name](client, inquiry, formatter)
  if (json) return `${JSON.stringify(withSentences(told.json, formatter), null, 1)}\n`
  return `${told.lines.join('\n')}\n`
}
