import { Icon } from '../ui/icon.tsx'
import { connection } from './client.ts'
import styles from './connection-banner.module.css'
import { useConnectionState } from './use-connection-state.ts'
import { useSay } from './words.tsx'

/** Says calmly that the connection dropped. It goes away by itself. */
export function ConnectionBanner() {
  const t = useSay()
  const lost = useConnectionState(connection) === 'lost'
  return (
    <div role="status" className={lost ? styles.banner : 'visually-hidden'}>
      {lost ? (
        <>
          <Icon name="warn" />
          {t('app.connection.lost', {})}
        </>
      ) : null}
    </div>
  )
}
