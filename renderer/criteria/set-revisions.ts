import { useQuery } from '@tanstack/react-query'
import type { CriteriaSet } from '#core/model/criteria.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'

export type SetRevision = {
  readonly number: number
  readonly at: string
  readonly personId: Uuid
  readonly reason: string
  readonly body: CriteriaSet
}

/** Every revision of a set, the first one first; null while they are fetched. */
export function useSetRevisions(id: Uuid): SetRevision[] | null {
  const query = useQuery(orpc.entities.revisions.queryOptions({ input: { id } }))
  if (!query.data) return null
  return query.data
    .flatMap(({ entity, at, personId, reason }) =>
      entity.kind === 'criteria_set' ? [{ number: entity.revision, at, personId, reason, body: entity.body }] : [],
    )
    .sort((a, b) => a.number - b.number)
}
