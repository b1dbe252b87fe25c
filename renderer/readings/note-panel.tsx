import { useState } from 'react'
import { useSay } from '../app/session.tsx'
import { TextField } from '../ui/text-field.tsx'
import { PanelForm } from './panel-form.tsx'

type NotePanelProps = { tag: string; order: number; note: string; stored: boolean; onSave: (note: string) => void; onClose: () => void }

/** A note beside a reading, written in the page, never over it. */
export function NotePanel({ tag, order, note, stored, onSave, onClose }: NotePanelProps) {
  const t = useSay()
  const [text, setText] = useState(note)
  const save = () => {
    onSave(text.trim())
    onClose()
  }
  return (
    <PanelForm
      title={t('readings.note.title', { tag, order })}
      save={t('readings.note.save', {})}
      able={text.trim() !== note}
      onSave={save}
      onClose={onClose}
    >
      <TextField
        label={t('readings.note.label', {})}
        value={text}
        onChange={setText}
        autoFocus
        large
        maxLength={1000}
        hint={stored ? t('readings.note.hint_stored', {}) : t('readings.note.hint_next', {})}
      />
    </PanelForm>
  )
}
