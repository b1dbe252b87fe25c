import type { DoubtOfCertificate, RecalculatedRun } from '#core/api/recalculation.ts'
import { daysInDoubt } from '#core/history/in-doubt.ts'
import { correctedDoubt, type Doubt, keyFigures, readingsInDoubt, withoutDoubt } from '#core/history/recalculation.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import type { RunInput } from '#core/methods/method.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { StoredEntity } from '../project-file/entities.ts'
import { runInput } from './run-input.ts'
import { resultOf } from './run-results.ts'
import { runsReadWith } from './runs-read-with.ts'
import type { Session } from './session.ts'

/** Every run that an instrument found out of tolerance was read in, with what its figures would be. Nothing is written. */
export function previewRecalculation(session: Session, instrumentId: string): DoubtOfCertificate[] {
  const instrument = session.find('instrument', instrumentId)
  const certificates = session.certificates.of(instrumentId).map(({ entity }) => entity)
  const doubts = daysInDoubt(certificates.map(({ body }) => body))
  if (doubts.length === 0) return []
  const runs = runsWith(session, instrument)
  return doubts.flatMap(({ from, to, certificateNumber, deviation }): DoubtOfCertificate[] => {
    const certificate = certificates.find(({ body }) => body.calibratedOn === to && body.certificateNumber === certificateNumber)
    if (!certificate) return []
    const { points } = certificate.body
    const doubt = { instrumentId, from, to }
    return [
      {
        calibrationId: certificate.id,
        certificateNumber,
        from,
        to,
        deviation,
        points: points.length,
        runs: runs.flatMap(({ run, input }) =>
          readingsInDoubt(input, doubt) > 0 ? [recalculated(session, run, input, doubt, points)] : [],
        ),
      },
    ]
  })
}

/** The runs that the instrument's readings reach, with what their calculation looks at; read once for all certificates. */
function runsWith(session: Session, instrument: StoredEntity<'instrument'>): { run: StoredEntity<'run'>; input: RunInput }[] {
  const { own, carrying } = runsReadWith(session, instrument)
  return [...own, ...carrying].map((run) => ({ run, input: runInput(session, run) }))
}

function recalculated(
  session: Session,
  run: StoredEntity<'run'>,
  input: RunInput,
  doubt: Doubt,
  points: EntityBody<'calibration'>['points'],
): RecalculatedRun {
  const { id, parentId, body } = run.entity
  const { compute } = methodOf(body.method)
  const corrected = correctedDoubt(input, doubt, points)
  const certification = session.stores.entities.find(parentId ?? '')
  return {
    runId: id,
    certificationId: parentId ?? '',
    certification: certification?.entity.kind === 'certification' ? certification.entity.body.name : '',
    roomId: body.roomId,
    room: input.room.body.number,
    method: body.method,
    phase: body.phase,
    state: body.state,
    readings: readingsInDoubt(input, doubt),
    ofReadings: input.values.length,
    stands: keyFigures(resultOf(session, run)),
    corrected: corrected && keyFigures(compute(corrected)),
    without: keyFigures(compute(withoutDoubt(input, doubt))),
  }
}
