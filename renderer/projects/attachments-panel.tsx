import { useMutation, useQuery } from '@tanstack/react-query'
import { useRef } from 'react'
import type { z } from 'zod'
import type { Attachment } from '#core/api/trail.ts'
import type { Uuid } from '#core/model/values.ts'
import { api, orpc, queryClient } from '../app/client.ts'
import { newCommand, newId, useCanChange, useSay } from '../app/session.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button, IconButton } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { useToast } from '../ui/toast.tsx'
import { bytesToBase64, saveOutside } from './attachment-bytes.ts'
import styles from './project.module.css'

const MOST_BYTES = 20_000_000

/** Files kept inside the project file with their owner: the project, a room, a run, an instrument. */
export function AttachmentsPanel({ ownerId }: { ownerId: Uuid }) {
  const t = useSay()
  const toast = useToast()
  const canChange = useCanChange()
  const picker = useRef<HTMLInputElement>(null)
  const list = useQuery(orpc.attachments.list.queryOptions({ input: { ownerId } }))
  const add = useMutation({
    mutationFn: async (file: File) =>
      api.attachments.add({
        command: newCommand(),
        id: newId(),
        ownerId,
        name: file.name.slice(0, 200),
        mediaType: file.type.slice(0, 100),
        contentBase64: bytesToBase64(new Uint8Array(await file.arrayBuffer())),
      }),
    onSuccess: () => queryClient.invalidateQueries({ queryKey: orpc.attachments.key() }),
    onError: (error) => toast.problem(error),
  })
  const save = async (attachment: z.infer<typeof Attachment>) => {
    try {
      const { contentBase64 } = await api.attachments.get({ id: attachment.id })
      saveOutside(attachment.name, attachment.mediaType, contentBase64)
    } catch (error) {
      toast.problem(error)
    }
  }
  return (
    <Panel
      title={t('projects.attachments', {})}
      actions={
        <Button icon="add" kind="quiet" disabled={!canChange || add.isPending} onClick={() => picker.current?.click()}>
          {t('projects.attachments.add', {})}
        </Button>
      }
    >
      <input
        ref={picker}
        type="file"
        hidden
        aria-label={t('projects.attachments.add', {})}
        onChange={(event) => {
          const [file] = event.target.files ?? []
          event.target.value = ''
          if (!file) return
          if (file.size > MOST_BYTES) toast.note(t('projects.attachments.too_big', { name: file.name }))
          else add.mutate(file)
        }}
      />
      {add.isPending ? <Busy label={t('projects.attachments.reading', { name: add.variables.name })} /> : null}
      {list.data?.length === 0 && !add.isPending ? <p className={styles.about}>{t('projects.attachments.none', {})}</p> : null}
      <ul className={styles.attachments}>
        {list.data?.map((attachment) => (
          <li key={attachment.id} className={styles.attachment}>
            <Icon name="file" />
            <span className={styles.attachmentName}>{attachment.name}</span>
            <span className={styles.about}>{t('projects.bytes', { bytes: attachment.bytes })}</span>
            <IconButton
              icon="save"
              label={t('projects.attachments.save', { name: attachment.name })}
              onClick={() => void save(attachment)}
            />
          </li>
        ))}
      </ul>
    </Panel>
  )
}
