import type { CriteriaSet } from '#core/model/criteria.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { LATER_FIELDS } from '#core/model/later-fields.ts'
import type { Uuid } from '#core/model/values.ts'
import type { Desk } from './desk.ts'
import { entered } from './entered.ts'
import { elementOf } from './place.ts'
import { source } from './source.ts'

export type People = Readonly<Record<string, Uuid>>
export type Step = { readonly on: string; readonly at: string; readonly does: () => Promise<void> }

/** The person of this key of the source. */
export function personOf(people: People, key: string): Uuid {
  const id = people[key]
  if (id === undefined) throw new Error(`The demo source speaks of a person ${key} that it does not give.`)
  return id
}

/** Everyone but the one who founded the project. */
export async function hirePeople(desk: Desk, founder: string, founderId: Uuid): Promise<People> {
  const people: Record<string, Uuid> = { [founder]: founderId }
  for (const [key, person] of Object.entries(source.peopleAndInstruments.people)) {
    if (key !== founder) people[key] = await desk.create(founderId, 'person', null, { ...person, active: true })
  }
  return people
}

/** Instruments are entered on the day of their first certificate that the project sees, later certificates when they arrive. */
export function instrumentSteps(desk: Desk, by: Uuid, opened: string, ids: Map<string, Uuid>): Step[] {
  return Object.entries(source.peopleAndInstruments.instruments).flatMap(([key, { calibrations, ...instrument }]) =>
    calibrations.map(
      (calibration, index): Step => ({
        on: calibration.on < opened ? opened : calibration.on,
        at: '15:00',
        does: async () => {
          if (index === 0) ids.set(key, await desk.create(by, 'instrument', null, { ...instrumentBody(instrument), active: true }))
          const instrumentId = ids.get(key)
          if (instrumentId === undefined) throw new Error(`The demo calibrates ${key} before it has it.`)
          await desk.create(by, 'calibration', instrumentId, {
            certificateNumber: calibration.certificate,
            laboratory: source.peopleAndInstruments.laboratory,
            calibratedOn: calibration.on,
            dueOn: calibration.due,
            range: null,
            foundInTolerance: calibration.foundInTolerance,
            ...statedBy(calibration, instrument.senses[0]),
            release: calibration.release ?? null,
            note: '',
          })
        },
      }),
    ),
  )
}

type InstrumentSource = (typeof source.peopleAndInstruments.instruments)[string]

export function instrumentBody({
  senses,
  standard,
  hoodFactors,
  ...instrument
}: Omit<InstrumentSource, 'calibrations'>): EntityBody<'instrument'> {
  return {
    ...instrument,
    senses: senses.map(({ quantity, low, high, unit, resolution, percentOfReading, absolute }) => ({
      quantity,
      low: entered(low, unit),
      high: entered(high, unit),
      resolution: entered(resolution, unit),
      accuracy: { form: 'sum_of', percentOfReading, absolute: entered(absolute, unit) },
    })),
    worksByPressure: false,
    standardCondition: standard && { temperature: entered(standard.degC, 'degC'), pressure: entered(standard.kPa, 'kPa') },
    hoodFactors: hoodFactors.map(({ face, low, high, factor, percent, reason }) => ({
      face,
      low: entered(low, 'm3/h'),
      high: entered(high, 'm3/h'),
      factor,
      uncertaintyPercent: percent,
      reason,
    })),
  }
}

type CalibrationSource = InstrumentSource['calibrations'][number]

/** What a certificate states of the first quantity of its instrument. */
function statedBy(
  { uncertainty, points, drift }: CalibrationSource,
  senses: InstrumentSource['senses'][number] | undefined,
): Pick<EntityBody<'calibration'>, 'points' | 'uncertainty' | 'drift'> {
  if (!senses) return LATER_FIELDS.calibration
  const { quantity, unit } = senses
  return {
    points: points.map(([reading, trueValue, expanded]) => ({
      quantity,
      reading: entered(reading, unit),
      trueValue: entered(trueValue, unit),
      expandedUncertainty: entered(expanded, unit),
      coverageFactor: 2,
    })),
    uncertainty: uncertainty
      ? [
          {
            quantity,
            expandedPercentOfReading: uncertainty.percent,
            expandedAbsolute: entered(uncertainty.absolute, unit),
            coverageFactor: uncertainty.k,
          },
        ]
      : [],
    drift: drift === undefined ? [] : [{ quantity, halfWidth: entered(drift, unit) }],
  }
}

type SetSource = (typeof source.criteria.sets)[number]
export function criteriaBody(set: SetSource, revision: SetSource['revisions'][number]): CriteriaSet {
  return {
    name: revision.body.name,
    decisionRule: revision.decisionRule,
    comparison: 'absolute',
    ...LATER_FIELDS.criteria_set,
    note: revision.body.note,
    criteria: revision.body.criteria.map((criterion) => ({
      ...criterion,
      plane: criterion.plane ?? (set.key === 'unidirectional' ? 'filter_face' : 'any'),
      basis: 'actual',
      on: true,
      alert: null,
    })),
  }
}

/** The first revisions at once, later ones when they were issued. */
export async function issueCriteria(desk: Desk, by: Uuid): Promise<{ ids: { unidirectional: Uuid; turbulent: Uuid }; later: Step[] }> {
  const ids = { unidirectional: '', turbulent: '' }
  const later: Step[] = []
  for (const set of source.criteria.sets) {
    const [first, ...others] = set.revisions
    if (!first) throw new Error(`The demo's criteria set ${set.key} has no revision.`)
    ids[set.key] = await desk.create(by, 'criteria_set', null, criteriaBody(set, first), first.reason)
    for (const revision of others) {
      later.push({
        on: revision.on,
        at: '10:00',
        does: async () => {
          const id = ids[set.key]
          const { revision: known } = await desk.find('criteria_set', id)
          const body = criteriaBody(set, revision)
          await desk.change(by, 'edit', id, [{ kind: 'criteria_set', id, parentId: null, revision: known, body }], revision.reason)
        },
      })
    }
  }
  return { ids, later }
}

/** Filter elements that were exchanged: the old one gets its last day, the new one its first. */
export function replacementSteps(desk: Desk, by: Uuid, filterId: (tag: string) => Uuid): Step[] {
  return source.visits.replaced.map((replaced) => ({
    on: replaced.on,
    at: '11:00',
    does: async () => {
      const terminalId = filterId(replaced.filter)
      const elements = await desk.api.entities.list({ kinds: ['filter_element'], within: terminalId, removed: false })
      const old = elements.find((entity) => entity.kind === 'filter_element' && entity.body.removedOn === null)
      if (old?.kind !== 'filter_element') throw new Error(`The demo replaces ${replaced.filter}, which has no element.`)
      const fresh = { ...elementOf(replaced.filter, elements.length, replaced.on), note: replaced.note }
      await desk.change(
        by,
        'edit',
        terminalId,
        [
          {
            kind: 'filter_element',
            id: old.id,
            parentId: terminalId,
            revision: old.revision,
            body: { ...old.body, removedOn: replaced.on },
          },
          { kind: 'filter_element', id: desk.clock.uuid(), parentId: terminalId, revision: null, body: fresh },
        ],
        replaced.note,
      )
    },
  }))
}

/** People and instruments that are no longer there today. */
export function farewellSteps(desk: Desk, by: Uuid, people: People, instruments: ReadonlyMap<string, Uuid>, on: string): Step[] {
  const reason = 'No longer in use'
  const retirePerson = async (id: Uuid): Promise<void> => {
    const { revision, body } = await desk.find('person', id)
    await desk.change(by, 'edit', id, [{ kind: 'person', id, parentId: null, revision, body: { ...body, active: false } }], reason)
  }
  const retireInstrument = async (id: Uuid): Promise<void> => {
    const { revision, body } = await desk.find('instrument', id)
    await desk.change(by, 'edit', id, [{ kind: 'instrument', id, parentId: null, revision, body: { ...body, active: false } }], reason)
  }
  return [
    {
      on,
      at: '16:00',
      does: async () => {
        for (const [key, person] of Object.entries(source.peopleAndInstruments.people)) {
          if (!person.active) await retirePerson(personOf(people, key))
        }
        for (const [key, instrument] of Object.entries(source.peopleAndInstruments.instruments)) {
          const id = instruments.get(key)
          if (!instrument.active && id !== undefined) await retireInstrument(id)
        }
      },
    },
  ]
}
