import { message } from '#core/messages/say.ts'
import type { UncertaintySettings } from '#core/model/criteria.ts'
import type { Sentence } from '#core/model/results.ts'
import { DIMENSION_OF_QUANTITY } from '#core/model/rule-problem.ts'
import type { Term } from '#core/uncertainty/term.ts'
import { airAtFilter, airAtInstrument } from '../air-of-run.ts'
import type { InstrumentUse } from '../instrument-use.ts'
import { INSTRUMENT_DENSITY_GROUP, pressureHalfWidthPa } from './budget-book.ts'
import type { TermsOfRun } from './figure-terms.ts'
import { areaPercent, elementPercent } from './terminal-errors.ts'

function usesOf(run: TermsOfRun, instrumentId: string): InstrumentUse[] {
  const all = run.seen.terminals.flatMap(({ as_indicated: { of } }) => of.readings.map(({ use }) => use))
  const seen = new Map<string, InstrumentUse>()
  for (const use of all) if (use.instrumentId === instrumentId) seen.set(`${use.certificate?.id ?? ''} ${use.quantity}`, use)
  return [...seen.values()]
}

function nameOf({ instrument }: InstrumentUse): { instrument: string; serialNumber: string } {
  return { instrument: instrument?.name ?? '?', serialNumber: instrument?.serialNumber ?? '?' }
}

function ofInstrument(term: Term, use: InstrumentUse, run: TermsOfRun): Sentence | null {
  const { budget } = run.book.instrumentOf(use)
  const dimension = DIMENSION_OF_QUANTITY[use.quantity]
  const certificate = use.certificate?.body.certificateNumber ?? ''
  switch (term.source) {
    case 'calibration':
      if (budget.curve)
        return message('budget.origin.points', { ...nameOf(use), certificate, figure: { points: budget.curve.points.length } })
      return (
        budget.certificate &&
        message('budget.origin.certificate', { ...nameOf(use), certificate, figure: { ...budget.certificate, dimension } })
      )
    case 'accuracy':
      return budget.accuracy && message('budget.origin.accuracy', { ...nameOf(use), figure: { ...budget.accuracy, dimension } })
    case 'drift':
      if (budget.driftHalfWidth !== null)
        return message('budget.origin.drift', { ...nameOf(use), certificate, figure: { halfWidth: budget.driftHalfWidth, dimension } })
      return budget.accuracy
        ? message('budget.origin.drift_not_stated', { ...nameOf(use), certificate, figure: { ...budget.accuracy, dimension } })
        : message('budget.origin.drift_unknown', { ...nameOf(use), certificate })
    case 'interpolation':
      return message('budget.origin.interpolation', { ...nameOf(use), certificate })
    case 'resolution':
      return budget.resolution === null
        ? null
        : message('budget.origin.resolution', { ...nameOf(use), figure: { step: budget.resolution, dimension } })
    default:
      return null
  }
}

function ofPlace(term: Term, run: TermsOfRun, settings: UncertaintySettings): Sentence | null {
  const terminal = run.seen.terminals.find(({ as_indicated: { of } }) => of.terminal.id === term.of)?.as_indicated
  const body = terminal?.of.terminal.body
  const tag = body?.tag ?? ''
  switch (term.source) {
    case 'spatial':
      return message('budget.origin.spatial', { tag, figure: { points: terminal?.parts.length ?? 0 } })
    case 'repeat':
      return message('budget.origin.repeat', {
        tag,
        figure: { repeats: terminal?.of.readings.reduce((sum, { indicated }) => sum + indicated.length, 0) ?? 0 },
      })
    case 'traverse_rule':
      return message('budget.origin.traverse_rule', { figure: { percent: settings.traverseRulePercent } })
    case 'area':
      return terminal
        ? message(body?.areaUncertaintyPercent == null ? 'budget.origin.area' : 'budget.origin.own_area', {
            tag,
            figure: { percent: areaPercent(terminal.of, settings), areaM2: terminal.areaM2 },
          })
        : null
    case 'correction_factor':
      return message('budget.origin.correction_factor', {
        tag,
        because: body?.correctionFactor?.reason ?? '',
        figure: { percent: body?.correctionFactor?.uncertaintyPercent ?? settings.correctionFactorPercent },
      })
    case 'hood_factor':
      return message('budget.origin.hood_factor', { tag, figure: { relative: term.value } })
    case 'flow_element': {
      const percent = terminal ? elementPercent(terminal.of, settings) : null
      if (percent === null) return null
      return message(body?.flowElement?.uncertaintyPercent == null ? 'budget.origin.flow_element' : 'budget.origin.own_flow_element', {
        tag,
        figure: { percent },
      })
    }
    case 'volume':
      return message('budget.origin.volume', {
        figure: { percent: run.input.room.body.volumeUncertaintyPercent ?? settings.volumePercent },
      })
    case 'density': {
      const { temperatureK, relativeHumidityPercent } = settings
      const atInstrument = term.group === INSTRUMENT_DENSITY_GROUP
      const air = terminal?.of.air ?? run.book.air
      const known = atInstrument ? airAtInstrument(air) : airAtFilter(air)
      const humidity = known?.state.relativeHumidityPercent ?? null
      return message(atInstrument ? 'budget.origin.density_at_instrument' : 'budget.origin.density', {
        figure: {
          temperatureK,
          pressurePa: known ? pressureHalfWidthPa(known, settings) : settings.pressurePa,
          pressureFrom: known?.pressureFrom ?? null,
          relativeHumidityPercent: humidity === null ? null : relativeHumidityPercent,
          relative: term.value,
        },
      })
    }
    default:
      return null
  }
}

/** Where the sizes of some terms come from, each said once, the first few. */
export function originsOf(terms: readonly Term[], run: TermsOfRun, settings: UncertaintySettings): Sentence[] {
  const said = new Map<string, Sentence>()
  for (const term of terms) {
    const { uses } = whoseIs(term, run)
    const sentences = uses.length > 0 ? uses.map((use) => ofInstrument(term, use, run)) : [ofPlace(term, run, settings)]
    for (const sentence of sentences) if (sentence) said.set(JSON.stringify(sentence), sentence)
    if (said.size >= MOST_SAID) break
  }
  return [...said.values()].slice(0, MOST_SAID)
}

const MOST_SAID = 12

/** The instrument and the terminal that a term speaks of: an instrument's is written with the terminal it read at. */
function whoseIs(term: Term, run: TermsOfRun): { uses: InstrumentUse[]; tag: string | null } {
  const [first = '', second] = term.of?.split(' ') ?? []
  const uses = first === '' ? [] : usesOf(run, first)
  const at = run.seen.terminals.find(({ as_indicated: { of } }) => of.terminal.id === (second ?? first))
  return { uses, tag: at?.as_indicated.of.terminal.body.tag ?? null }
}

/** Whose term it is, by name. */
export function subjectOf(term: Term, run: TermsOfRun): { name: string; at: string | null } {
  const { uses, tag } = whoseIs(term, run)
  const [use] = uses
  if (use) return { name: nameOf(use).instrument, at: tag }
  return { name: tag ?? run.input.room.body.number, at: null }
}
