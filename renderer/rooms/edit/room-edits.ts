import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useCallback, useMemo, useRef, useState } from 'react'
import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc } from '#renderer/app/client.ts'
import { newCommand } from '#renderer/app/session.tsx'
import { useToast } from '#renderer/ui/toast.tsx'
import { AROUND, aroundInput, ofKind, planOf, type RoomPlan, WITHIN, withinInput } from '../room-plan.ts'
import { merged, withChanges } from './pending-changes.ts'

export type RoomEdits = {
  readonly plan: RoomPlan | null
  readonly criteriaSets: readonly Entity<'criteria_set'>[]
  readonly facilities: readonly Entity<'facility'>[]
  readonly waiting: boolean
  readonly error: unknown
  /** One gesture of a person: one command, one step of undo. Shown at once, taken back with a sentence if the project refuses it. */
  readonly change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

type Sent = { readonly number: number; readonly changes: readonly EntityChange[] }

/** The room under edit: the project file's state with the changes that are on their way laid over it. */
export function useRoomEdits(roomId: Uuid): RoomEdits {
  const client = useQueryClient()
  const toast = useToast()
  const around = useQuery(orpc.entities.list.queryOptions({ input: aroundInput }))
  const within = useQuery(orpc.entities.list.queryOptions({ input: withinInput(roomId) }))
  const [pending, setPending] = useState<readonly Sent[]>([])
  const lineRef = useRef({ tail: Promise.resolve(), sent: 0, refusedUpTo: 0 })

  const take = useCallback(
    (answered: readonly Entity[]) => {
      client.setQueryData(
        orpc.entities.list.queryKey({ input: aroundInput }),
        (known: Entity[] | undefined) => known && merged(known, answered, (entity) => AROUND.includes(entity.kind)),
      )
      client.setQueryData(
        orpc.entities.list.queryKey({ input: withinInput(roomId) }),
        (known: Entity[] | undefined) => known && merged(known, answered, (entity) => WITHIN.includes(entity.kind)),
      )
    },
    [client, roomId],
  )

  const change = useCallback(
    (name: CommandName, changes: readonly EntityChange[], reason?: string) => {
      if (changes.length === 0) return
      const line = lineRef.current
      line.sent += 1
      const number = line.sent
      const command = newCommand(reason)
      setPending((before) => [...before, { number, changes }])
      line.tail = line.tail.then(async () => {
        // What was built on a refused change goes with it.
        if (number <= line.refusedUpTo) return
        try {
          take(await api.entities.change({ command, name, scope: roomId, changes: [...changes] }))
          setPending((before) => before.filter((sent) => sent.number !== number))
        } catch (error) {
          line.refusedUpTo = line.sent
          setPending((before) => before.filter((sent) => sent.number > line.refusedUpTo))
          toast.problem(error)
          await client.invalidateQueries({ queryKey: orpc.entities.key() })
        }
      })
    },
    [client, roomId, take, toast],
  )

  return useMemo(() => {
    const changes = pending.flatMap((sent) => sent.changes)
    const near =
      around.data &&
      withChanges(
        around.data,
        changes.filter((one) => AROUND.includes(one.kind)),
      )
    const inside =
      within.data &&
      withChanges(
        within.data,
        changes.filter((one) => WITHIN.includes(one.kind)),
      )
    return {
      plan: near && inside ? planOf(roomId, near, inside) : null,
      criteriaSets: near ? ofKind(near, 'criteria_set') : [],
      facilities: near ? ofKind(near, 'facility') : [],
      waiting: !around.data || !within.data,
      error: around.error ?? within.error,
      change,
    }
  }, [roomId, around.data, around.error, within.data, within.error, pending, change])
}
