import { useEffect, useLayoutEffect, useRef, useState } from 'react'
import { useLocation, useSearch } from 'wouter'
import { useCourier } from '../readings/use-courier.ts'
import { IconButton } from '../ui/button.tsx'
import { joined } from '../ui/class-names.ts'
import { HelpDialog } from './help.tsx'
import { Palette } from './palette.tsx'
import { PersonDialog } from './person-dialog.tsx'
import { fetchScreens, Routes } from './routes.tsx'
import { ScreenBoundary } from './screen-boundary.tsx'
import { useSay, useSession } from './session.tsx'
import styles from './shell.module.css'
import { type ShellCommands, useShellKeys } from './shell-keys.ts'
import { Strip } from './strip.tsx'
import { undoScopeOf, useUndo } from './undo.ts'
import { Where } from './where.tsx'
import { useWhy, WhyProvider } from './why.tsx'

/** The screen that was asked for comes first. */
const FETCHED_AFTER_MS = 3000

type Overlay = 'find' | 'help' | 'person' | null

/** One window, three regions that never move: where, what, why. */
export function Shell() {
  return (
    <WhyProvider>
      <Regions />
    </WhyProvider>
  )
}

function Regions() {
  const t = useSay()
  const { files, person } = useSession()
  const [address] = useLocation()
  const why = useWhy()
  const whyShown = why.open && !why.bare
  const search = useSearch()
  const undo = useUndo(undoScopeOf(address, search))
  useCourier()
  const [overlay, setOverlay] = useState<Overlay>(null)
  const [looksOnly, setLooksOnly] = useState(false)
  // On a narrow window the list of places lies over the stage: going somewhere puts it away.
  const [whereOpenAt, setWhereOpenAt] = useState<string | null>(null)
  const whereOpen = whereOpenAt === address
  const stage = useRef<HTMLElement>(null)
  const where = useRef<HTMLElement>(null)
  // Another screen begins at its top, however far down the one before was read.
  useLayoutEffect(() => {
    if (address) stage.current?.scrollTo(0, 0)
  }, [address])
  useEffect(() => {
    const idle = setTimeout(fetchScreens, FETCHED_AFTER_MS)
    return () => clearTimeout(idle)
  }, [])
  const asksForPerson = person === null && files?.open?.readOnly === false && !looksOnly

  const commands: ShellCommands = {
    find: () => setOverlay('find'),
    help: () => setOverlay('help'),
    person: () => setOverlay('person'),
    undo: undo.undo,
    redo: undo.redo,
    where: () => {
      setWhereOpenAt(address)
      where.current?.querySelector<HTMLElement>('a, button')?.focus()
    },
    what: () => stage.current?.focus(),
    why: () => {
      if (!why.bare) why.setOpen(!why.open)
    },
  }
  useShellKeys(commands, overlay === null && !asksForPerson)

  return (
    <div className={joined(styles.window, whyShown && styles.withWhy, why.bare && styles.bareWhy)}>
      <button type="button" className={styles.skip} onClick={() => stage.current?.focus()}>
        {t('app.skip', {})}
      </button>
      <Strip commands={commands} undo={undo} whereOpen={whereOpen} onWhere={() => setWhereOpenAt(whereOpen ? null : address)} />
      <nav ref={where} aria-label={t('app.region.where', {})} className={joined(styles.where, whereOpen && styles.whereOpen)}>
        <Where />
      </nav>
      {whereOpen ? (
        <button
          type="button"
          tabIndex={-1}
          aria-label={t('app.where.close', {})}
          className={styles.scrim}
          onClick={() => setWhereOpenAt(null)}
        />
      ) : null}
      <main ref={stage} tabIndex={-1} aria-label={t('app.region.what', {})} className={styles.what}>
        <ScreenBoundary key={address}>
          <Routes />
        </ScreenBoundary>
      </main>
      <aside aria-label={t('app.region.why', {})} className={styles.why}>
        <div className={styles.whyHead}>
          <span className={styles.whyName}>{t('app.region.why', {})}</span>
          <IconButton
            icon={whyShown ? 'close' : 'info'}
            label={why.bare ? t('app.why.nothing_here', {}) : whyShown ? t('app.why.close', {}) : t('app.why.open', {})}
            keys="F8"
            aria-expanded={whyShown}
            disabled={why.bare}
            onClick={() => why.setOpen(!why.open)}
          />
        </div>
        <div className={styles.whyBody} hidden={!whyShown}>
          <div ref={why.setHost} />
          {why.empty ? <p className={styles.whyEmpty}>{t('app.why.empty', {})}</p> : null}
        </div>
      </aside>
      <Palette open={overlay === 'find'} onClose={() => setOverlay(null)} commands={commands} />
      <HelpDialog open={overlay === 'help'} onClose={() => setOverlay(null)} />
      <PersonDialog
        open={overlay === 'person' || asksForPerson}
        onClose={() => {
          setOverlay(null)
          if (asksForPerson) setLooksOnly(true)
        }}
      />
    </div>
  )
}
