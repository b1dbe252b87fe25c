import type { ContractRouterClient } from '@orpc/contract'
import type { z } from 'zod'
import type { Command } from '#core/api/base.ts'
import type { Contract } from '#core/api/contract.ts'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { ENTITY_SCHEMAS, Entity, EntityKind } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import type { DemoClock } from './clock.ts'

export type Api = ContractRouterClient<Contract>

/** Whoever works on the demo's project: makes commands in a person's name at the clock's time, and remembers revisions. */
export type Desk = {
  readonly api: Api
  readonly clock: DemoClock
  readonly command: (personId: Uuid, reason?: string) => Command
  readonly create: <K extends EntityChange['kind']>(
    by: Uuid,
    kind: K,
    parentId: Uuid | null,
    body: z.input<(typeof ENTITY_SCHEMAS)[K]>,
    reason?: string,
  ) => Promise<Uuid>
  readonly change: (by: Uuid, name: CommandName, scope: string, changes: EntityChange[], reason?: string) => Promise<void>
  /** the entity as it stands now */
  readonly find: <K extends EntityKind>(kind: K, id: Uuid) => Promise<Entity<K>>
}

export function createDesk(api: Api, clock: DemoClock): Desk {
  const command = (personId: Uuid, reason = ''): Command => ({ id: clock.uuid(), personId, reason })
  const change: Desk['change'] = async (by, name, scope, changes, reason = '') => {
    await api.entities.change({ command: command(by, reason), name, scope, changes })
    clock.pass(20)
  }
  return {
    api,
    clock,
    command,
    change,
    async create(by, kind, parentId, body, reason) {
      const id = clock.uuid()
      // Kind and body belong together by the signature; the union of changes cannot express that for a generic kind.
      await change(by, 'create', parentId ?? id, [{ kind, id, parentId, revision: null, body } as EntityChange], reason)
      return id
    },
    async find(kind, id) {
      const entities = await api.entities.list({ kinds: [kind], within: null, removed: false })
      const found = entities.find((entity) => entity.id === id)
      if (!found) throw new Error(`The demo looks for a ${kind} that is not there.`)
      // The list was asked for this kind alone; the answer's union cannot say so.
      return found as unknown as Entity<typeof kind>
    },
  }
}
