import type { EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import type { FieldProblem } from '../forms/use-form.ts'

type AirSystem = EntityBody<'air_system'>
export const FRESH_SYSTEM: AirSystem = { name: '', designSupply: null, designReturn: null, designExhaust: null, note: '' }

/** What is wrong with an air system as typed; `others` are the names that are taken. */
export function airSystemProblems(form: AirSystem, others: readonly string[]): FieldProblem[] {
  const name = form.name.trim()
  if (name === '') return [{ field: 'name', code: 'systems.needs_name', params: {} }]
  const taken = others.some((other) => other.toLowerCase() === name.toLowerCase())
  return taken ? [{ field: 'name', code: 'systems.name_taken', params: { name } }] : checkBody('air_system', { ...form, name })
}
