import { useMutation } from '@tanstack/react-query'
import { useEffect, useRef } from 'react'
import { useLocation } from 'wouter'
import { z } from 'zod'
import { api } from '../app/client.ts'
import { useFailureText, useOpenFile, useSay, useSentence } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Facts, Panel } from '../ui/panel.tsx'
import { useToast } from '../ui/toast.tsx'
import { usePlaceChooser } from './choose-place.tsx'
import { proposedName } from './chooser-name.ts'
import { useJob } from './job.ts'
import styles from './project.module.css'

const Exported = z.looseObject({ path: z.string() })

/** Where the file is, copies of it, and the exchange form. */
export function FilePanel({ asked }: { asked: 'copy' | 'export' | null }) {
  const t = useSay()
  const sentence = useSentence()
  const failureText = useFailureText()
  const toast = useToast()
  const file = useOpenFile()
  const [, go] = useLocation()
  const chooser = usePlaceChooser()
  const exportPath = useRef('')
  const exporting = useJob(() => api.jobs.startExport({ path: exportPath.current }))
  const copying = useMutation({ mutationFn: (path: string) => api.files.saveCopy({ path }) })

  const saveCopy = () =>
    chooser.choose('save_project', proposedName(t('projects.copy.name', { name: file.name })), (path) => copying.mutate(path))
  const exportAll = () =>
    chooser.choose('save_exchange', proposedName(file.name), (path) => {
      exportPath.current = path
      exporting.start()
    })
  const begun = useRef(false)
  useEffect(() => {
    if (!asked || begun.current) return
    begun.current = true
    if (asked === 'copy') saveCopy()
    else exportAll()
  })
  const exported = exporting.job?.state === 'done' ? (Exported.safeParse(exporting.job.result).data?.path ?? exportPath.current) : null

  return (
    <Panel title={t('projects.file', {})}>
      <div className={styles.stack}>
        <Facts
          facts={[
            [
              t('projects.file.path', {}),
              <span key="path" className={styles.path}>
                {file.path}
              </span>,
            ],
            [
              t('projects.file.state', {}),
              file.readOnly
                ? file.readOnlyBecause
                  ? sentence(file.readOnlyBecause)
                  : t('projects.file.read_only', {})
                : t('projects.file.writable', {}),
            ],
          ]}
        />
        <p className={styles.about}>{t('projects.export_about', {})}</p>
        <div role="status" className={styles.outcome}>
          {copying.isSuccess ? <p>{t('projects.copy.done', copying.data)}</p> : null}
          {exported ? <p>{t('projects.export.done', { path: exported })}</p> : null}
        </div>
        {copying.isError ? (
          <p role="alert" className={styles.problem}>
            {failureText(copying.error)}
          </p>
        ) : null}
        {exporting.job?.failure ? (
          <p role="alert" className={styles.problem}>
            {sentence(exporting.job.failure.sentence)}
          </p>
        ) : null}
        {exporting.running ? <Busy label={t('projects.export.running', {})} progress={exporting.job?.progress} /> : null}
        <div className={styles.actions}>
          <Button icon="copy" onClick={saveCopy}>
            {t('projects.copy', {})}
          </Button>
          <Button icon="save" onClick={exportAll}>
            {t('projects.export', {})}
          </Button>
          <Button
            icon="close"
            onClick={() => {
              go('/')
              void api.files.close().catch((error: unknown) => toast.problem(error))
            }}
          >
            {t('projects.close', {})}
          </Button>
        </div>
      </div>
      {chooser.dialog}
    </Panel>
  )
}
