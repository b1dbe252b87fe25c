import { api, orpc, queryClient } from '../app/client.ts'
import { type FilesStateData, useSay } from '../app/session.tsx'
import { IconButton } from '../ui/button.tsx'
import { Icon } from '../ui/icon.tsx'
import styles from './home.module.css'

type RecentProps = { recent: FilesStateData['recent']; onOpen: (path: string) => void }

export function RecentProjects({ recent, onOpen }: RecentProps) {
  const t = useSay()
  const forget = async (path: string) => {
    await api.files.forgetRecent({ path })
    await queryClient.invalidateQueries({ queryKey: orpc.files.key() })
  }
  return (
    <section aria-labelledby="recent" className={styles.column}>
      <h2 id="recent" className={styles.heading}>
        {t('projects.recent', {})}
      </h2>
      {recent.length === 0 ? <p className={styles.none}>{t('projects.recent_none', {})}</p> : null}
      <ul className={styles.recent}>
        {recent.map((entry) => (
          <li key={entry.path} className={styles.recentLine}>
            <button type="button" className={styles.recentOpen} disabled={entry.missing} onClick={() => onOpen(entry.path)}>
              <Icon name="file" />
              <span className={styles.recentName}>{entry.name}</span>
              <span className={styles.recentPath}>{entry.path}</span>
              <span className={styles.recentAt}>
                {entry.missing ? t('projects.recent_missing', {}) : t('projects.recent_opened', { at: entry.openedAt })}
              </span>
            </button>
            <IconButton
              icon="close"
              label={t('projects.recent_forget', { name: entry.name })}
              onClick={() => void forget(entry.path)}
              large
            />
          </li>
        ))}
      </ul>
    </section>
  )
}
