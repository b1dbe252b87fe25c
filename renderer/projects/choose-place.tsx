import { type ReactNode, useRef, useState } from 'react'
import { desktopBridge } from '../app/desktop-bridge.ts'
import { FileChooser } from './file-chooser.tsx'

export type ChooseFor = 'open_project' | 'open_exchange' | 'open_delimited' | 'save_project' | 'save_exchange'

type Asked = { purpose: ChooseFor; suggested: string; then: (path: string) => void }

/** Asks for a file or place: the system's own dialogs in the desktop host, the page's chooser elsewhere. */
export function usePlaceChooser(): {
  choose: (purpose: ChooseFor, suggested: string, then: (path: string) => void) => void
  dialog: ReactNode
} {
  const [asked, setAsked] = useState<Asked | null>(null)
  const stands = useRef(false)
  const ask = (next: Asked | null) => {
    stands.current = next !== null
    setAsked(next)
  }
  const choose = (purpose: ChooseFor, suggested: string, then: (path: string) => void) => {
    const bridge = desktopBridge()
    if (!bridge) return ask({ purpose, suggested, then })
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
    <FileChooser
      key={asked.purpose}
      purpose={asked.purpose}
      suggested={asked.suggested}
      returnsFocus={() => !stands.current}
      onClose={() => ask(null)}
      onPick={(path) => {
        ask(null)
        asked.then(path)
      }}
    />
  ) : null
  return { choose, dialog }
}
