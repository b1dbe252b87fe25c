import { useState } from 'react'
import { api, orpc, queryClient } from '../app/client.ts'
import { useFailureText, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './file-chooser.module.css'

type NewFolderProps = { parent: string; onMade: (path: string) => void; onCancel: () => void }

export function NewFolder({ parent, onMade, onCancel }: NewFolderProps) {
  const t = useSay()
  const failureText = useFailureText()
  const [name, setName] = useState('')
  const [error, setError] = useState<string | null>(null)
  const make = async () => {
    try {
      const made = await api.files.makeFolder({ parent, name })
      await queryClient.invalidateQueries({ queryKey: orpc.files.browse.key() })
      onMade(made.path)
    } catch (thrown) {
      setError(failureText(thrown))
    }
  }
  return (
    <form
      className={styles.newFolder}
      onSubmit={(event) => {
        event.preventDefault()
        void make()
      }}
    >
      <TextField label={t('projects.chooser.folder_name', {})} value={name} onChange={setName} error={error} maxLength={120} autoFocus />
      <Button type="submit" kind="primary">
        {t('projects.chooser.make', {})}
      </Button>
      <Button onClick={onCancel}>{t('app.cancel', {})}</Button>
    </form>
  )
}
