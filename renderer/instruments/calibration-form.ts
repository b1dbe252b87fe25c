import type { EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Entered, Quantity } from '#core/model/values.ts'
import type { FieldProblem } from '../forms/use-form.ts'
import { type EvidenceForm, evidenceOfForm, evidenceProblems, formOfEvidence } from './evidence-form.ts'

type Calibration = EntityBody<'calibration'>
export type FoundInTolerance = 'yes' | 'no' | 'not_stated'
/** A certificate as its form holds it. */
export type CalibrationForm = {
  certificateNumber: string
  laboratory: string
  calibratedOn: string
  dueOn: string
  isNarrower: boolean
  rangeQuantity: Quantity
  low: Entered | null
  high: Entered | null
  found: FoundInTolerance
  releaseNumber: string
  releaseReason: string
  note: string
} & EvidenceForm

export const NEW_CALIBRATION: CalibrationForm = {
  certificateNumber: '',
  laboratory: '',
  calibratedOn: '',
  dueOn: '',
  isNarrower: false,
  rangeQuantity: 'velocity',
  low: null,
  high: null,
  found: 'not_stated',
  releaseNumber: '',
  releaseReason: '',
  note: '',
  points: [],
  uncertainty: [],
  drift: [],
}

export function formOfCalibration(body: Calibration): CalibrationForm {
  return {
    certificateNumber: body.certificateNumber,
    laboratory: body.laboratory,
    calibratedOn: body.calibratedOn,
    dueOn: body.dueOn,
    isNarrower: body.range !== null,
    rangeQuantity: body.range?.quantity ?? 'velocity',
    low: body.range?.low ?? null,
    high: body.range?.high ?? null,
    found: body.foundInTolerance === null ? 'not_stated' : body.foundInTolerance ? 'yes' : 'no',
    releaseNumber: body.release?.number ?? '',
    releaseReason: body.release?.reason ?? '',
    note: body.note,
    ...formOfEvidence(body),
  }
}

export function calibrationOfForm(form: CalibrationForm): Calibration {
  const { certificateNumber, laboratory, calibratedOn, dueOn, note, low, high } = form
  const number = form.releaseNumber.trim()
  return {
    certificateNumber,
    laboratory,
    calibratedOn,
    dueOn,
    range: form.isNarrower && low && high ? { quantity: form.rangeQuantity, low, high } : null,
    foundInTolerance: form.found === 'not_stated' ? null : form.found === 'yes',
    ...evidenceOfForm(form),
    release: number === '' ? null : { number, reason: form.releaseReason.trim() },
    note,
  }
}

/** What is wrong with a certificate as typed, at the field where it is wrong. */
export function calibrationProblems(form: CalibrationForm): FieldProblem[] {
  const missing: FieldProblem[] = []
  const ask = (field: string, isThere: boolean) => {
    if (!isThere) missing.push({ field, code: 'instruments.problem.missing', params: {} })
  }
  ask('certificateNumber', form.certificateNumber.trim() !== '')
  ask('calibratedOn', form.calibratedOn !== '')
  ask('dueOn', form.dueOn !== '')
  if (form.isNarrower) {
    ask('range.low', form.low !== null)
    ask('range.high', form.high !== null)
  }
  if (form.releaseNumber.trim() !== '') ask('release.reason', form.releaseReason.trim() !== '')
  else if (form.releaseReason.trim() !== '') ask('release.number', false)
  missing.push(...evidenceProblems(form))
  return missing.length > 0 ? missing : checkBody('calibration', calibrationOfForm(form))
}
