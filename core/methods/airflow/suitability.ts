import type { Message } from '#core/messages/say.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { FlowWay } from '#core/model/terminals.ts'
import type { Quantity, Uuid } from '#core/model/values.ts'
import type { Pinned, RunInput } from '../method.ts'
import { checkTraversePlace } from '../traverse/place-check.ts'
import { AVERAGING_S } from './averaging.ts'
import { designOf, ownDesignOf } from './design.ts'
import { ductSectionOf } from './duct-layout.ts'
import { sensedRange } from './reading-flags.ts'
import { isFilter, quantityOf } from './ways.ts'

/** Something about a run that does not suit, or that has to be asked. `acceptedBy` null: nobody has given a reason to go on all the same. */
export type Misfit = {
  /** what an acceptance names it by; remarks about a duct one by one */
  readonly code: string
  readonly sentence: MisfitSentence
  /** what the acceptance names: the terminal, the instrument, or both */
  readonly terminalId: Uuid | null
  readonly instrumentId: Uuid | null
  /** `stops` wants a written reason before the figures are relied on; `asks` is a question or a remark */
  readonly weight: 'stops' | 'asks'
  readonly acceptedBy: Accepted | null
}

export type MisfitSentence = Extract<Message, { code: `misfit.${string}` }>

type Accepted = EntityBody<'run'>['acceptedMisfits'][number]
type Found = Omit<Misfit, 'acceptedBy' | 'code'>
type Instrument = EntityBody<'instrument'>
type MeasuredTerminal = { readonly terminal: Pinned<'terminal'>; readonly way: FlowWay; readonly quantity: Quantity }

export type SuitabilityInput = Pick<RunInput, 'run' | 'room' | 'zones'> & {
  readonly terminals: readonly Pinned<'terminal'>[]
  /** those that the run uses or is about to use */
  readonly instruments: readonly { readonly id: Uuid; readonly body: Instrument }[]
  readonly wayAt: (terminal: EntityBody<'terminal'>) => FlowWay | null
}

function senses(instrument: Instrument, quantity: Quantity): boolean {
  return instrument.senses.some((sensed) => sensed.quantity === quantity)
}

/** Directional sensing is for air in one direction, omnidirectional for turbulent air (common practice). */
function sensingMisfits({ run, room }: SuitabilityInput, { id, body }: SuitabilityInput['instruments'][number], faces: boolean): Found[] {
  if (!faces || !senses(body, 'velocity')) return []
  const base = { terminalId: null, instrumentId: id } as const
  const { name } = body
  const atFace = run.plane.kind === 'filter_face'
  const oneWay = atFace || room.body.airflowType === 'unidirectional'
  if (!oneWay && body.sensing === 'directional')
    return [{ ...base, weight: 'stops', sentence: { code: 'misfit.directional_in_turbulent_air', params: { instrument: name } } }]
  if (oneWay && body.sensing === 'omnidirectional')
    return [{ ...base, weight: 'stops', sentence: { code: 'misfit.omnidirectional_in_one_way_air', params: { instrument: name } } }]
  const inStream: Found = { ...base, weight: 'asks', sentence: { code: 'misfit.sensors_in_stream', params: { instrument: name } } }
  if (!oneWay || body.sensing !== 'directional') return [inStream]
  return [{ ...base, weight: 'asks', sentence: { code: 'misfit.hold_to_mark', params: { instrument: name } } }, inStream]
}

/** Turbulent air moves about its mean: an average over a short time is not the mean (house rule A2, common practice). */
function averagingMisfits({ run, room }: SuitabilityInput): Found[] {
  const turbulent = room.body.airflowType === 'non_unidirectional' && run.plane.kind === 'working_height'
  if (!turbulent || run.averagingTimeS >= AVERAGING_S.turbulent) return []
  const times = { averagingS: run.averagingTimeS, leastS: AVERAGING_S.turbulent }
  return [{ terminalId: null, instrumentId: null, weight: 'stops', sentence: { code: 'misfit.averaging_too_short', params: times } }]
}

function designIn({ terminal: { body } }: MeasuredTerminal, quantity: Quantity, input: SuitabilityInput): number | null {
  const zone = input.zones.find(({ id }) => id === body.zoneId)?.body ?? null
  const design = isFilter(body.kind) ? designOf(body, zone, input.room.body) : ownDesignOf(body, body.effectiveArea.si)
  if (quantity === 'flow') return design.flow?.si ?? null
  return quantity === 'velocity' && isFilter(body.kind) ? (design.velocity?.si ?? null) : null
}

/** What no instrument at hand senses, and design values that lie outside the range of all that do. */
function rangeMisfits(measured: MeasuredTerminal, input: SuitabilityInput): Found[] {
  const { terminal, quantity, way } = measured
  const base = { terminalId: terminal.id, instrumentId: null } as const
  const { tag } = terminal.body
  const able = input.instruments.filter(({ body }) => senses(body, quantity))
  const [first] = able
  if (!first) {
    if (input.instruments.length === 0) return []
    return [{ ...base, weight: 'stops', sentence: { code: 'misfit.nothing_senses', params: { tag, what: { quantity } } } }]
  }
  const design = designIn(measured, quantity, input)
  if (design === null) return []
  const fits = able.some(({ body }) => {
    const range = sensedRange(body, quantity)
    return range !== null && design >= range.low && design <= range.high
  })
  if (fits) return []
  const range = sensedRange(first.body, quantity) ?? { low: 0, high: 0 }
  const figure = { quantity, design, low: range.low, high: range.high }
  const params = { tag, instrument: first.body.name, figure }
  const sentence: MisfitSentence =
    way === 'hood' ? { code: 'misfit.hood_out_of_range', params } : { code: 'misfit.design_out_of_range', params }
  return [{ ...base, instrumentId: first.id, weight: 'stops', sentence }]
}

/** A grid on a face that swirls the air, and a duct where it is no place to traverse. */
function placeMisfits({ terminal, way }: MeasuredTerminal): Found[] {
  const base = { terminalId: terminal.id, instrumentId: null } as const
  const { tag, face, duct } = terminal.body
  if (way === 'face_grid' && (face === 'swirl' || face === 'louvre'))
    return [{ ...base, weight: 'stops', sentence: { code: 'misfit.grid_on_swirl', params: { tag } } }]
  if (way !== 'duct_traverse' || !duct) return []
  const { straightBefore, straightAfter, cyclonic } = duct
  const place = { straightBeforeM: straightBefore?.si ?? null, straightAfterM: straightAfter?.si ?? null, cyclonic }
  return checkTraversePlace(ductSectionOf(duct), place).map((remark) => ({
    ...base,
    weight: remark.weight === 'unusable' ? 'stops' : 'asks',
    sentence: { code: 'misfit.traverse_place', params: { tag, remark } },
  }))
}

function pitotMisfits(measured: readonly MeasuredTerminal[]): Found[] {
  const tubes = measured.filter(({ quantity }) => quantity === 'velocity_pressure' || quantity === 'pressure_difference')
  return tubes.length === 0
    ? []
    : [{ terminalId: null, instrumentId: null, weight: 'asks', sentence: { code: 'misfit.zero_first', params: {} } }]
}

function codeOf({ code, params }: MisfitSentence): string {
  return code === 'misfit.traverse_place' ? `${code}.${params.remark.code}` : code
}

/**
 * What does not suit about the instruments, averaging time and places of a run, and what the certifier is asked, each with the reason by which it was
 * accepted, if it was. Nothing is refused here: the program says what does not suit and why, and a certifier may go on with a written
 * reason. Source: the house's rule A2 (common practice); places of traverses by {@link checkTraversePlace}.
 */
export function misfitsOf(input: SuitabilityInput): Misfit[] {
  const measured = input.terminals.flatMap((terminal): MeasuredTerminal[] => {
    const way = terminal.body.closed === null ? input.wayAt(terminal.body) : null
    return way ? [{ terminal, way, quantity: quantityOf(way, terminal.body) }] : []
  })
  const faces = input.run.method === 'plane_velocity_grid' || measured.some(({ way }) => way === 'face_grid')
  const found = [
    ...input.instruments.flatMap((instrument) => sensingMisfits(input, instrument, faces)),
    ...averagingMisfits(input),
    ...measured.flatMap((one) => [...rangeMisfits(one, input), ...placeMisfits(one)]),
    ...pitotMisfits(measured),
  ]
  return found.map((one) => {
    const code = codeOf(one.sentence)
    const isThis = (accepted: Accepted) =>
      accepted.code === code && accepted.terminalId === one.terminalId && accepted.instrumentId === one.instrumentId
    return { ...one, code, acceptedBy: input.run.acceptedMisfits.find(isThis) ?? null }
  })
}
