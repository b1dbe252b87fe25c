import { balance } from './balance.ts'
import { changes } from './changes.ts'
import { compare } from './compare.ts'
import { criteria } from './criteria.ts'
import { commands, entities } from './entities.ts'
import { evaluation } from './evaluation.ts'
import { files } from './files.ts'
import { imports } from './imports.ts'
import { jobs } from './jobs.ts'
import { readings } from './readings.ts'
import { recalculation } from './recalculation.ts'
import { certifications, runs } from './runs.ts'
import { attachments, audit, search } from './trail.ts'

/** The one contract between the page and the project. Every host serves exactly this. */
export const contract = {
  files,
  entities,
  commands,
  certifications,
  runs,
  readings,
  imports,
  evaluation,
  compare,
  balance,
  recalculation,
  criteria,
  audit,
  search,
  attachments,
  jobs,
  changes,
}

export type Contract = typeof contract
