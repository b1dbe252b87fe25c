import { z } from 'zod'
import { Criterion, DecisionRule } from '#core/model/criteria.ts'
import { Instrument } from '#core/model/instruments.ts'
import { Person, Project } from '#core/model/places.ts'
import { Certification } from '#core/model/runs.ts'
import { TerminalFace, TerminalKind } from '#core/model/terminals.ts'
import { Basis, CleanlinessClass, PlainDate, Quantity, Unit } from '#core/model/values.ts'
import airJson from './air.json' with { type: 'json' }
import criteriaJson from './criteria.json' with { type: 'json' }
import peopleJson from './people-and-instruments.json' with { type: 'json' }
import siteJson from './site.json' with { type: 'json' }
import visitsJson from './visits.json' with { type: 'json' }

const pair = z.tuple([z.number(), z.number()])
const Grade = z.enum(['A', 'B', 'C', 'D'])

const FilterBank = z.strictObject({
  kind: TerminalKind,
  size: z.string(),
  zone: z.number().int().optional().describe('which zone of the room hangs under this bank'),
  from: pair.describe('centre of the first filter (left, then far), m from the room’s lower left corner'),
  step: pair.describe('m to the next one on the right, m to the next row nearer to the lower wall'),
  count: pair.describe('columns, rows'),
  velocity: z.string().optional().describe('design, m/s'),
  flow: z.string().optional().describe('design, m3/h'),
  source: z.enum(['air_handler', 'recirculated', 'shared_plenum', 'device']).optional(),
})
export type FilterBank = z.infer<typeof FilterBank>

const Grille = z.strictObject({
  kind: TerminalKind.extract(['return_grille', 'exhaust_grille']),
  wall: z.enum(['west', 'east', 'south', 'north']),
  at: z.number().describe('m along the wall from its left or lower end'),
  size: z.tuple([z.string(), z.string()]),
  flow: z.string().describe('design, m3/h'),
  duct: z
    .strictObject({ width: z.string(), height: z.string(), straightBefore: z.string(), straightAfter: z.string() })
    .optional()
    .describe('the duct behind it, mm and m of straight duct: traversed instead of a hood'),
  orifice: z
    .strictObject({ coefficient: z.number(), bore: z.string(), duct: z.string() })
    .optional()
    .describe('the orifice in the duct behind it, mm: read instead of a hood'),
})
export type Grille = z.infer<typeof Grille>

const RoomSource = z.strictObject({
  number: z.string(),
  name: z.string(),
  system: z.number().int().default(0).describe('which air system of the facility supplies it and takes its return'),
  grade: Grade,
  origin: pair,
  size: pair.optional(),
  outline: z.array(pair).optional(),
  ceiling: z.string(),
  zones: z.array(z.strictObject({ name: z.string(), box: z.tuple([z.number(), z.number(), z.number(), z.number()]) })).default([]),
  filters: z.array(FilterBank),
  grilles: z.array(Grille),
})
export type RoomSource = z.infer<typeof RoomSource>

const Site = z.strictObject({
  project: Project,
  filterSizes: z.record(
    z.string(),
    z.strictObject({
      width: z.string(),
      depth: z.string(),
      effectiveArea: z.string(),
      grid: z.strictObject({ rows: z.number(), columns: z.number() }).optional(),
    }),
  ),
  facilities: z.array(
    z.strictObject({
      name: z.string(),
      address: z.string(),
      northDegrees: z.number(),
      altitudeM: z.number(),
      systems: z.array(
        z.strictObject({ name: z.string(), supply: z.string().optional(), return: z.string().optional(), exhaust: z.string().optional() }),
      ),
      rooms: z.array(RoomSource),
      doors: z.array(
        z.strictObject({
          name: z.string(),
          between: z.tuple([z.string(), z.string().nullable()]),
          at: pair,
          wall: z.enum(['level', 'upright']),
          width: z.number(),
          pressure: z.string().nullable(),
          transfer: z.strictObject({ flow: z.string(), how: z.string() }).optional().describe('m3/h as the air is'),
        }),
      ),
    }),
  ),
})

const PeopleAndInstruments = z.strictObject({
  people: z.record(z.string(), Person),
  instruments: z.record(
    z.string(),
    Instrument.pick({ name: true, serialNumber: true, sensing: true, averagingTimeS: true, active: true, note: true }).extend({
      basis: Basis,
      standard: z.strictObject({ degC: z.string(), kPa: z.string() }).nullable().default(null),
      correctsByPoints: z.boolean().default(false),
      reportsReverseFlow: z.boolean().default(false),
      hoodFactors: z
        .array(
          z.strictObject({
            face: TerminalFace,
            low: z.string().describe('m3/h as indicated'),
            high: z.string(),
            factor: z.number(),
            percent: z.number().describe('half the width it is known to'),
            reason: z.string(),
          }),
        )
        .default([]),
      senses: z.array(
        z.strictObject({
          quantity: Quantity,
          low: z.string(),
          high: z.string(),
          unit: Unit,
          resolution: z.string(),
          percentOfReading: z.number(),
          absolute: z.string(),
        }),
      ),
      calibrations: z.array(
        z.strictObject({
          certificate: z.string(),
          on: PlainDate,
          due: PlainDate,
          foundInTolerance: z.boolean().default(true),
          release: z.strictObject({ number: z.string(), reason: z.string() }).optional(),
          uncertainty: z.strictObject({ percent: z.number(), absolute: z.string(), k: z.number() }).optional(),
          points: z
            .array(z.tuple([z.string(), z.string(), z.string()]))
            .default([])
            .describe('reading, true value, expanded uncertainty (k = 2), in the unit of what it senses'),
          drift: z.string().optional().describe('half width until the next certificate'),
        }),
      ),
    }),
  ),
  laboratory: z.string(),
})

const CriteriaSource = z.strictObject({
  grades: z.record(Grade, z.strictObject({ class: CleanlinessClass, requiredAirChanges: z.number().nullable() })),
  sets: z.array(
    z.strictObject({
      key: z.enum(['unidirectional', 'turbulent']),
      revisions: z.array(
        z.strictObject({
          on: PlainDate,
          reason: z.string(),
          decisionRule: DecisionRule.default({ kind: 'simple' }),
          body: z.strictObject({
            name: z.string(),
            note: z.string(),
            criteria: z.array(
              Criterion.omit({ plane: true, basis: true, on: true, alert: true }).extend({ plane: Criterion.shape.plane.optional() }),
            ),
          }),
        }),
      ),
    }),
  ),
})

const Day = z.strictObject({
  on: PlainDate,
  technician: z.string(),
  instrument: z.string(),
  unit: Unit,
  misfit: z.string().optional().describe('what does not suit about the instrument, by its key'),
})
const Retest = Day.extend({
  room: z.string(),
  work: z.string(),
  set: z.record(z.string(), z.number()),
  straighten: z.array(z.string()).default([]),
  openAfterFilters: z.number().int().optional().describe('the run is left open after so many filters'),
  carry: z
    .strictObject({ terminals: z.array(z.string()), reason: z.string() })
    .optional()
    .describe('terminals that were not touched: their readings as found stand'),
})
export type Retest = z.infer<typeof Retest>
const PlaneRound = Day.extend({
  room: z.string(),
  zone: z.string(),
  heightM: z.number(),
  rows: z.number().int(),
  columns: z.number().int(),
  note: z.string(),
})
export type PlaneRound = z.infer<typeof PlaneRound>
const Visit = Certification.pick({ name: true, purpose: true, why: true, startsOn: true, endsOn: true, finished: true }).extend({
  stationPressure: z.string().describe('Pa'),
  barometer: z.boolean().describe('whether it was read, or the altitude had to do'),
  wholeRooms: z.array(z.string()).default([]).describe('rooms whose every terminal is measured, not their filters alone'),
  planes: z.array(PlaneRound).default([]),
  doors: z.record(z.string(), z.string()).default({}).describe('pressures over doors, Pa, that are not as they should be'),
  days: z.array(Day.extend({ rooms: z.array(z.string()), samples: z.number().int().default(1) })),
  retests: z.array(Retest),
  released: z.array(z.strictObject({ on: PlainDate, room: z.string(), technician: z.string(), reason: z.string() })).default([]),
  signed: z.strictObject({ on: PlainDate, by: z.string() }).nullable(),
})
export type Visit = z.infer<typeof Visit>
const Visits = z.strictObject({
  installedOn: PlainDate,
  flowInstrument: z.string(),
  pressureInstrument: z.string(),
  misfits: z.record(z.string(), z.strictObject({ code: z.string(), reason: z.string() })),
  replaced: z.array(z.strictObject({ filter: z.string(), on: PlainDate, note: z.string() })),
  visits: z.array(Visit),
})

const Air = z.strictObject({
  seed: z.number().int(),
  loadPercentPerYear: z.strictObject({
    supply_filter: z.number(),
    fan_filter_unit: z.number(),
    return_grille: z.number(),
    exhaust_grille: z.number(),
  }),
  startAtPercentOfDesign: z.strictObject({ mean: z.number(), spread: z.number() }),
  pointToPointPercent: z.number(),
  readingRepeatPercent: z.number(),
  visitDriftPercent: z.number(),
  atWorkingHeightPercent: z.number().describe('of the velocity under the filters'),
  doorPressureSpreadPa: z.number(),
  slipEvery: z.number().int().describe('one reading in so many is first typed with the point in the wrong place'),
  of: z.record(z.string(), z.strictObject({ start: z.number(), load: z.number() })),
  events: z.array(
    z.strictObject({
      on: PlainDate,
      filters: z.array(z.string()),
      times: z.number().optional(),
      set: z.number().optional(),
      tilt: z.number().optional(),
      what: z.string(),
    }),
  ),
})
export type AirSource = z.infer<typeof Air>

/** The readable source of the demo, checked when the builder starts: a slip of the pen in a file is named by its place. */
export const source = {
  site: Site.parse(siteJson),
  peopleAndInstruments: PeopleAndInstruments.parse(peopleJson),
  criteria: CriteriaSource.parse(criteriaJson),
  visits: Visits.parse(visitsJson),
  air: Air.parse(airJson),
}
