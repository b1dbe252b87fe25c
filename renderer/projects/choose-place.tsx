import { type ReactNode, useRef, useState } from 'react'
import { desktopBridge } from '../app/desktop-bridge.ts'
import { OwnZone } from '../app/words.tsx'
import { FileChooser } from './file-chooser.tsx'

export type ChooseFor = 'open_project' | 'open_exchange' | 'open_delimited' | 'save_project' | 'save_exchange'

type Asked = { purpose: ChooseFor; suggested: string; then: (path: string) => void; startIn: string | null }
type Choose = (purpose: ChooseFor, suggested: string, then: (path: string) => void, startIn?: string) => void

/** Where a file was chosen last, for each purpose: the next one mostly lies beside it. */
const lastFolder = new Map<ChooseFor, string>()

/** Asks for a file or place: the system's own dialogs in the desktop host, the page's chooser elsewhere. */
export function usePlaceChooser(): {
  choose: Choose
  dialog: ReactNode
} {
  const [asked, setAsked] = useState<Asked | null>(null)
  const stands = useRef(false)
  const ask = (next: Asked | null) => {
    stands.current = next !== null
    setAsked(next)
  }
  const choose: Choose = (purpose, suggested, then, startIn) => {
    const bridge = desktopBridge()
    if (!bridge) return ask({ purpose, suggested, then, startIn: startIn ?? lastFolder.get(purpose) ?? null })
    const picked =
      purpose === 'open_project'
        ? bridge.pickProjectToOpen()
        : purpose === 'open_exchange'
          ? bridge.pickExchangeToImport()
          : purpose === 'open_delimited'
            ? bridge.pickReadingsToImport()
            : bridge.pickPlaceToSave({ suggestedName: suggested, kind: purpose === 'save_project' ? 'project' : 'exchange' })
    void picked.then((path) => {
      if (path !== null) then(path)
    })
  }
  const dialog = asked ? (
    <OwnZone>
      <FileChooser
        key={asked.purpose}
        purpose={asked.purpose}
        suggested={asked.suggested}
        startIn={asked.startIn}
        returnsFocus={() => !stands.current}
        onClose={() => ask(null)}
        onPick={(path, folder) => {
          if (folder !== null) lastFolder.set(asked.purpose, folder)
          ask(null)
          asked.then(path)
        }}
      />
    </OwnZone>
  ) : null
  return { choose, dialog }
}
