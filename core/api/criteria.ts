import { z } from 'zod'
import { CriteriaSet } from '../model/criteria.ts'
import { base } from './base.ts'
import { preview } from './criteria-preview.ts'

export const criteria = {
  /** The starting sets of domain.md as editable data; adopting one creates a criteria_set entity through entities.change. */
  starting: base.output(z.array(CriteriaSet)),
  preview,
}
