import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useRef, useState } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc } from '../app/client.ts'
import { newCommand, newId, useCanChange, useSay } from '../app/session.tsx'
import { useRunStep } from '../app/use-run-step.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { useToast } from '../ui/toast.tsx'
import { bytesOf, inBase64 } from './base64.ts'
import styles from './steps.module.css'

const MOST_BYTES = 20 * 1024 * 1024

/** Files kept with a run inside the project file. */
export function Attachments({ runId }: { runId: Uuid }) {
  const t = useSay()
  const toast = useToast()
  const client = useQueryClient()
  const canChange = useCanChange()
  const chooser = useRef<HTMLInputElement>(null)
  const [storing, setStoring] = useState<string | null>(null)
  const [tooLarge, setTooLarge] = useState<string | null>(null)
  const input = { ownerId: runId }
  const list = useQuery(orpc.attachments.list.queryOptions({ input }))
  const step = useRunStep(() => {
    void client.invalidateQueries({ queryKey: orpc.attachments.list.queryKey({ input }) })
  })

  const add = async (file: File) => {
    setTooLarge(file.size > MOST_BYTES ? t('certifications.attach.too_large', { name: file.name }) : null)
    if (file.size > MOST_BYTES) return
    setStoring(file.name)
    const contentBase64 = inBase64(new Uint8Array(await file.arrayBuffer()))
    step.run(() =>
      api.attachments
        .add({
          command: newCommand(),
          id: newId(),
          ownerId: runId,
          name: file.name.slice(0, 200),
          mediaType: file.type || 'application/octet-stream',
          contentBase64,
        })
        .finally(() => setStoring(null)),
    )
  }
  const save = async (id: Uuid) => {
    try {
      const { attachment, contentBase64 } = await api.attachments.get({ id })
      const address = URL.createObjectURL(new Blob([bytesOf(contentBase64)], { type: attachment.mediaType }))
      const link = document.createElement('a')
      link.href = address
      link.download = attachment.name
      link.click()
      URL.revokeObjectURL(address)
    } catch (error) {
      toast.problem(error)
    }
  }
  return (
    <section className={styles.step} aria-label={t('certifications.attach.title', {})}>
      {list.data?.length === 0 ? <p className={styles.quiet}>{t('certifications.attach.none', {})}</p> : null}
      <ul className={styles.files}>
        {list.data?.map((attachment) => (
          <li key={attachment.id}>
            <Button
              icon="save"
              kind="quiet"
              aria-label={t('certifications.attach.open', { name: attachment.name })}
              onClick={() => void save(attachment.id)}
            >
              {attachment.name}
            </Button>
            <span className={styles.quiet}>{t('certifications.attach.size', { bytes: attachment.bytes })}</span>
          </li>
        ))}
      </ul>
      {storing ? <Busy label={t('certifications.attach.busy', { name: storing })} /> : null}
      {(tooLarge ?? step.problem) ? (
        <p role="alert" className={styles.problem}>
          {tooLarge ?? step.problem}
        </p>
      ) : null}
      <div className={styles.actions}>
        <input
          ref={chooser}
          type="file"
          hidden
          aria-label={t('certifications.attach.add', {})}
          onChange={(event) => {
            const file = event.target.files?.[0]
            event.target.value = ''
            if (file) void add(file)
          }}
        />
        <Button large icon="add" disabled={!canChange || storing !== null} onClick={() => chooser.current?.click()}>
          {t('certifications.attach.add', {})}
        </Button>
      </div>
    </section>
  )
}
