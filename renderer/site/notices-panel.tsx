import { useState } from 'react'
import { Link } from 'wouter'
import { useOpenFile, useSay, useSentence } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { Icon, type IconName } from '../ui/icon.tsx'
import { Panel } from '../ui/panel.tsx'
import { VerdictShape } from '../ui/verdict-mark.tsx'
import { type Notice, noticeAddress } from './notice-address.ts'
import styles from './notices.module.css'

const NOTICE_ICON: Record<Notice['kind'], IconName> = {
  due: 'clock',
  calibration: 'gauge',
  failed: 'redo',
  replaced: 'replaced',
  info: 'info',
}

const SHOWN_AT_FIRST = 6

/** What a certifier has to know before anything else; each line leads to its evidence. */
export function NoticesPanel({ notices, certified }: { notices: readonly Notice[]; certified: boolean }) {
  const t = useSay()
  const sentence = useSentence()
  const file = useOpenFile()
  const [all, setAll] = useState(false)
  const aboutFile: Notice[] = [...file.notices, ...(file.readOnlyBecause ? [file.readOnlyBecause] : [])].map((said) => ({
    kind: 'info',
    sentence: said,
    roomId: null,
    entityId: null,
  }))
  // What fails now goes before what is due, and before what was put right.
  const told = [...aboutFile, ...notices].sort((a, b) => Number(failsNow(b)) - Number(failsNow(a)))
  const shown = all ? told : told.slice(0, SHOWN_AT_FIRST)
  // Before the first certification there is nothing that could be said to be in order.
  if (told.length === 0 && !certified) return null
  return (
    <Panel title={t('site.notices', {})} flush>
      {told.length === 0 ? <p className={styles.none}>{t('site.notices.none', {})}</p> : null}
      <ul className={styles.notices}>
        {shown.map((notice) => (
          <li key={JSON.stringify(notice)} className={styles.notice} data-kind={failsNow(notice) ? 'fails' : notice.kind}>
            <Line notice={notice} text={sentence(notice.sentence)} />
          </li>
        ))}
      </ul>
      {told.length > SHOWN_AT_FIRST ? (
        <Button kind="quiet" icon={all ? 'up' : 'down'} onClick={() => setAll(!all)}>
          {all ? t('site.notices.fewer', {}) : t('site.notices.more', { count: told.length - SHOWN_AT_FIRST })}
        </Button>
      ) : null}
    </Panel>
  )
}

const failsNow = ({ sentence: { code } }: Notice) => code === 'notice.failed' || code === 'file.found_damaged'

function Line({ notice, text }: { notice: Notice; text: string }) {
  const address = noticeAddress(notice)
  const content = (
    <>
      {failsNow(notice) ? <VerdictShape verdict="fail" size={17} /> : <Icon name={NOTICE_ICON[notice.kind]} />}
      <span className={styles.text}>{text}</span>
      {address ? <Icon name="right" size={14} /> : null}
    </>
  )
  return address ? (
    <Link href={address} className={styles.line}>
      {content}
    </Link>
  ) : (
    <span className={styles.line}>{content}</span>
  )
}
