import { eventIterator } from '@orpc/contract'
import { z } from 'zod'
import { EntityKind } from '../model/entities.ts'
import { Uuid } from '../model/values.ts'
import { base } from './base.ts'
import { Job } from './jobs.ts'

export const ChangeEvent = z.discriminatedUnion('what', [
  z.strictObject({ what: z.literal('file') }),
  z.strictObject({ what: z.literal('entities'), kinds: z.array(EntityKind), ids: z.array(Uuid) }),
  z.strictObject({ what: z.literal('readings'), runId: Uuid }),
  z.strictObject({ what: z.literal('run'), runId: Uuid }),
  z.strictObject({ what: z.literal('job'), job: Job }),
])

export const changes = { subscribe: base.output(eventIterator(ChangeEvent)) }
