import { useQuery } from '@tanstack/react-query'
import { Link, useSearchParams } from 'wouter'
import type { ImportInto } from '#core/api/imports.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay, useSession } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { planRun } from '../readings/run-plan.ts'
import { Busy } from '../ui/busy.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import styles from './import.module.css'
import { ImportDesk } from './import-desk.tsx'
import { SavedMappings } from './saved-mappings.tsx'

/** Takes readings out of a delimited file: into one run (`?run=`), or into the open runs of a certification (`?certification=`). */
export function ImportScreen() {
  useNoWhy()
  const t = useSay()
  const [search] = useSearchParams()
  const runId = search.get('run')
  const certificationId = search.get('certification')
  const { certifications, certification: latest } = useSession()
  if (runId) return <IntoRun key={runId} runId={runId} />
  const certification = certifications.find(({ id }) => id === certificationId)
  if (certification) {
    return (
      <div className={styles.screen}>
        <ScreenHead
          title={t('import.title', {})}
          about={t('import.into_certification', { name: certification.body.name })}
          actions={<Link href={`/certification/${certification.id}`}>{t('import.to_certification', {})}</Link>}
        />
        <ImportDesk into={{ kind: 'certification', certificationId: certification.id }} plan={null} />
      </div>
    )
  }
  return (
    <div className={styles.screen}>
      <ScreenHead title={t('import.title', {})} />
      <EmptyState
        icon="file"
        title={t('import.nowhere', {})}
        action={
          <Link href={latest ? `/certification/${latest.id}` : '/site'}>
            {latest ? t('import.go_to_certification', {}) : t('app.go_to_site', {})}
          </Link>
        }
      />
      <SavedMappings />
    </div>
  )
}

function IntoRun({ runId }: { runId: Uuid }) {
  const t = useSay()
  const failureText = useFailureText()
  const detail = useQuery(orpc.runs.get.queryOptions({ input: { runId } }))
  const plan = detail.data ? planRun(detail.data) : null
  if (detail.error) return <EmptyState icon="warn" title={failureText(detail.error)} />
  if (!plan) return <Busy label={t('app.loading', {})} />
  const into: ImportInto = { kind: 'run', runId, firstPoint: null }
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('import.title', {})}
        about={t('import.into_run', { room: plan.room.body.number, phase: plan.run.body.phase })}
        actions={<Link href={`/run/${runId}`}>{t('import.to_run', {})}</Link>}
      />
      <ImportDesk into={into} plan={plan} />
    </div>
  )
}
