import { useQuery } from '@tanstack/react-query'
import { useMemo } from 'react'
import type { EntityKind } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { labelOf } from './subject.ts'

const NAMED: EntityKind[] = ['person', 'facility', 'room', 'instrument', 'criteria_set', 'certification', 'project']

/** What the identities in the trail are called today; removed things keep their names. */
export function useNames(): ReadonlyMap<Uuid, string> {
  const here = useQuery(orpc.entities.list.queryOptions({ input: { kinds: NAMED, within: null } }))
  const gone = useQuery(orpc.entities.list.queryOptions({ input: { kinds: NAMED, within: null, removed: true } }))
  return useMemo(() => {
    const names = new Map<Uuid, string>()
    for (const entity of [...(gone.data ?? []), ...(here.data ?? [])]) {
      const label = labelOf(entity.body)
      if (label) names.set(entity.id, label)
    }
    return names
  }, [here.data, gone.data])
}
