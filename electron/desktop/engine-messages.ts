import { z } from 'zod'

/** What the main process tells the engine's process. A page's port travels with `page`. */
export const EngineProcessMessage = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('page') }),
  z.strictObject({ kind: z.literal('grant'), path: z.string().min(1) }),
  z.strictObject({ kind: z.literal('stop') }),
])
export type EngineProcessMessage = z.infer<typeof EngineProcessMessage>
