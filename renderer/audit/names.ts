import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { EntityKind } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useSay } from '../app/session.tsx'
import { labelOf } from './subject.ts'

const NAMED: EntityKind[] = ['person', 'facility', 'room', 'instrument', 'criteria_set', 'certification', 'project', 'run']

/** What the identities in the trail are called today; removed things keep their names. */
export function useNames(): ReadonlyMap<Uuid, string> {
  const here = useQuery(orpc.entities.list.queryOptions({ input: { kinds: NAMED, within: null } }))
  const gone = useQuery(orpc.entities.list.queryOptions({ input: { kinds: NAMED, within: null, removed: true } }))
  const t = useSay()
  return useMemo(() => {
    const names = new Map<Uuid, string>()
    for (const entity of [...(gone.data ?? []), ...(here.data ?? [])]) {
      const label = labelOf(entity.body)
      if (label) names.set(entity.id, label)
    }
    for (const entity of here.data ?? []) {
      if (entity.kind !== 'run') continue
      const room = names.get(entity.body.roomId) ?? ''
      names.set(entity.id, entity.body.phase === 'as_found' ? t('audit.run.as_found', { room }) : t('audit.run.as_left', { room }))
    }
    return names
  }, [here.data, gone.data, t])
}
