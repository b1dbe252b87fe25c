import { useQuery } from '@tanstack/react-query'
import type { Entity } from '#core/model/entities.ts'
import { useChange } from '../app/change.ts'
import { orpc } from '../app/client.ts'
import { useCanChange, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Panel } from '../ui/panel.tsx'
import styles from './import.module.css'

/** The project's mappings of delimited files. */
export function useMappings(): readonly Entity<'import_mapping'>[] {
  const query = useQuery(orpc.entities.list.queryOptions({ input: { kinds: ['import_mapping'], within: null } }))
  return query.data?.filter((entity) => entity.kind === 'import_mapping') ?? []
}

/** The mappings by name, each with the way to remove it. */
export function SavedMappings() {
  const t = useSay()
  const canChange = useCanChange()
  const mappings = useMappings()
  const change = useChange()
  return (
    <Panel title={t('import.saved_mappings', {})}>
      {mappings.length === 0 ? <p className={styles.quiet}>{t('import.no_mappings', {})}</p> : null}
      <ul className={styles.mappings}>
        {mappings.map(({ id, revision, body }) => (
          <li key={id}>
            <span className={styles.mappingName}>{body.name}</span>
            <Button
              kind="quiet"
              aria-label={t('import.forget_mapping', { name: body.name })}
              disabled={!canChange || change.isPending}
              onClick={() =>
                change.mutate({ name: 'remove', changes: [{ kind: 'import_mapping', id, parentId: null, revision, body: null }] })
              }
            >
              {t('import.forget', {})}
            </Button>
          </li>
        ))}
      </ul>
    </Panel>
  )
}
