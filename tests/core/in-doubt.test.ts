import { describe, expect, it } from 'vitest'
import { daysInDoubt, runsInDoubt } from '#core/history/in-doubt.ts'
import { aCalibration, INSTRUMENT_ID, uuid } from './face-run.ts'

const good = aCalibration({ certificateNumber: 'C-1', calibratedOn: '2024-05-01', foundInTolerance: true })
const next = aCalibration({ certificateNumber: 'C-2', calibratedOn: '2025-05-01', foundInTolerance: true })
const bad = aCalibration({ certificateNumber: 'C-3', calibratedOn: '2026-05-01', foundInTolerance: false })

describe('an instrument found out of tolerance', () => {
  it('is in doubt since its calibration before', () => {
    expect(daysInDoubt([bad, good, next])).toEqual([{ from: '2025-05-01', to: '2026-05-01', certificateNumber: 'C-3', deviation: null }])
    expect(daysInDoubt([bad])).toEqual([{ from: null, to: '2026-05-01', certificateNumber: 'C-3', deviation: null }])
    expect(daysInDoubt([good, next, aCalibration({ foundInTolerance: null })])).toEqual([])
  })

  it('lists every run read with it in that time, and no other', () => {
    const run = (number: number, on: string, instrumentId = INSTRUMENT_ID) => ({ runId: uuid(number), uses: [{ instrumentId, on }] })
    const runs = [run(1, '2025-04-30'), run(2, '2025-05-01'), run(3, '2026-03-02'), run(4, '2026-03-02', uuid(9)), run(5, '2026-05-02')]
    expect(runsInDoubt(INSTRUMENT_ID, [good, next, bad], runs)).toMatchObject([{ certificateNumber: 'C-3', runIds: [uuid(2), uuid(3)] }])
  })
})
