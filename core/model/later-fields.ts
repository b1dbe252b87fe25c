import { type CriteriaSet, STARTING_UNCERTAINTY } from './criteria.ts'
import type { Calibration, Instrument } from './instruments.ts'
import type { Door, Room } from './places.ts'
import type { Run } from './runs.ts'
import type { Terminal } from './terminals.ts'

type LaterFields = {
  readonly room: Pick<Room, 'volumeUncertaintyPercent'>
  readonly terminal: Pick<Terminal, 'areaUncertaintyPercent' | 'measuredBy' | 'duct' | 'flowElement' | 'airSystemId' | 'adjustable'>
  readonly door: Pick<Door, 'transfer'>
  readonly instrument: Pick<Instrument, 'worksByPressure' | 'standardCondition' | 'hoodFactors' | 'correctsByPoints'>
  readonly calibration: Pick<Calibration, 'points' | 'uncertainty' | 'drift'>
  readonly criteria_set: Pick<CriteriaSet, 'uncertainty'>
  readonly run: Pick<Run, 'otherUnits' | 'instrumentConditions' | 'planeGrid' | 'acceptedMisfits' | 'carried' | 'doorPressures'>
}

/**
 * What the fields that came after the first files read as in a body that was stored without them: the defaults of the schemas, for
 * code that makes a body from nothing.
 */
export const LATER_FIELDS: LaterFields = {
  room: { volumeUncertaintyPercent: null },
  terminal: { areaUncertaintyPercent: null, measuredBy: null, duct: null, flowElement: null, airSystemId: null, adjustable: true },
  door: { transfer: null },
  instrument: { worksByPressure: false, standardCondition: null, hoodFactors: [], correctsByPoints: false },
  calibration: { points: [], uncertainty: [], drift: [] },
  criteria_set: { uncertainty: STARTING_UNCERTAINTY },
  run: { otherUnits: null, instrumentConditions: null, planeGrid: null, acceptedMisfits: [], carried: [], doorPressures: [] },
}
