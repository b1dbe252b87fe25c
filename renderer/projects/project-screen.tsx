import { useEffect, useRef } from 'react'
import { useSearchParams } from 'wouter'
import { useProject, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { AttachmentsPanel } from './attachments-panel.tsx'
import { CheckPanel } from './check-panel.tsx'
import { FilePanel } from './file-panel.tsx'
import { PeoplePanel } from './people-panel.tsx'
import styles from './project.module.css'
import { SettingsPanel } from './settings-panel.tsx'

/** Settings, people, the file itself, its check, and what is attached to the whole project. */
export function ProjectScreen() {
  useNoWhy()
  const t = useSay()
  const project = useProject()
  const asked = useAskedOnce()
  return (
    <div className={styles.screen}>
      <ScreenHead title={t('projects.settings', {})} about={project.body.name} />
      <div className={styles.columns}>
        <div className={styles.column}>
          <SettingsPanel key={project.revision} project={project} />
          <PeoplePanel />
        </div>
        <div className={styles.column}>
          <FilePanel asked={asked === 'copy' || asked === 'export' ? asked : null} />
          <CheckPanel startAtOnce={asked === 'check'} />
          <AttachmentsPanel ownerId={project.id} />
        </div>
      </div>
    </div>
  )
}

/** What the palette or the menu asked for by address; going back does not ask again. */
function useAskedOnce(): string | null {
  const [search, setSearch] = useSearchParams()
  const asked = search.get('do')
  const kept = useRef(asked)
  if (asked) kept.current = asked
  useEffect(() => {
    if (asked) setSearch({}, { replace: true })
  }, [asked, setSearch])
  return kept.current
}
