import { type ReactNode, useEffect, useRef, useState } from 'react'
import { Link, useLocation, useSearchParams } from 'wouter'
import type { Failure } from '#core/api/errors.ts'
import { api } from '../app/client.ts'
import { failureOf } from '../app/failure.ts'
import { useSay, useSentence, useSession } from '../app/session.tsx'
import { Emblem } from '../app/strip.tsx'
import { tellReopened } from '../app/use-reopened.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Icon, type IconName } from '../ui/icon.tsx'
import { type ChooseFor, usePlaceChooser } from './choose-place.tsx'
import { useEnterProject } from './enter-project.ts'
import styles from './home.module.css'
import { NewProjectForm } from './new-project-form.tsx'
import { RecentProjects } from './recent-projects.tsx'

/** Create, open, recent, demo, import. */
export function HomeScreen() {
  const t = useSay()
  const { files } = useSession()
  const [search] = useSearchParams()
  const [, go] = useLocation()
  const asked = search.get('do')
  const creating = asked === 'new'
  const enter = useEnterProject()
  const chooser = usePlaceChooser()
  const [failedOpen, setFailedOpen] = useState<{ path: string; readOnly: boolean } | null>(null)
  const notReopened = files?.reopened ?? null

  const open = (path: string, readOnly = false) => {
    setFailedOpen({ path, readOnly })
    enter.mutate({ what: nameOf(path), path, open: () => api.files.open({ path, readOnly }) })
  }
  const choose = (purpose: ChooseFor, suggested: string, then: (path: string) => void, startIn?: string) => {
    setFailedOpen(null)
    enter.reset()
    chooser.choose(purpose, suggested, then, startIn)
  }
  const openDialog = useRef(() => {})
  useEffect(() => {
    openDialog.current = () => choose('open_project', '', (path) => open(path))
  })
  // The desktop's menu asks by address; asked once, not again when the page comes back here.
  useEffect(() => {
    if (asked !== 'open') return
    go('/', { replace: true })
    openDialog.current()
  }, [asked, go])
  const importExchange = () =>
    choose('open_exchange', '', (exchangePath) =>
      choose('save_project', nameOf(exchangePath).replace(/\.json$/, ''), (path) =>
        enter.mutate({ what: nameOf(exchangePath), path: null, open: () => api.files.importExchange({ exchangePath, path }) }),
      ),
    )

  return (
    <main className={styles.home}>
      <div className={styles.bench}>
        <header className={styles.brand}>
          <Emblem size={44} />
          <div>
            <h1 className={styles.name}>{t('app.name', {})}</h1>
            <p className={styles.tagline}>{t('app.tagline', {})}</p>
          </div>
          {files?.open ? (
            <Link href="/site" className={styles.back}>
              {t('projects.back_to', { name: files.open.name })}
              <Icon name="right" size={16} />
            </Link>
          ) : null}
        </header>
        {enter.isPending ? (
          <div className={styles.note}>
            <Busy
              label={enter.variables.what === null ? t('projects.opening_demo', {}) : t('projects.opening', { name: enter.variables.what })}
            />
          </div>
        ) : null}
        {enter.isError ? (
          <OpenProblem
            failure={failureOf(enter.error)}
            path={failedOpen?.path ?? null}
            wasReadOnly={failedOpen?.readOnly ?? false}
            onReadOnly={(path) => open(path, true)}
            onBackups={(path) => choose('open_project', '', (chosen) => open(chosen), `${path}-backups`)}
            onDismiss={() => enter.reset()}
          />
        ) : notReopened?.failure && enter.isIdle ? (
          <OpenProblem
            before={t('projects.not_reopened', { name: notReopened.name })}
            failure={notReopened.failure}
            path={notReopened.path}
            onReadOnly={(path) => open(path, true)}
            onBackups={(path) => choose('open_project', '', (chosen) => open(chosen), `${path}-backups`)}
            onDismiss={tellReopened}
          />
        ) : null}
        {creating ? (
          <NewProjectForm onCancel={() => go('/')} />
        ) : (
          <div className={styles.columns}>
            <section aria-labelledby="start" className={styles.column}>
              <h2 id="start" className={styles.heading}>
                {t('projects.start', {})}
              </h2>
              <Start icon="add" title={t('projects.new', {})} about={t('projects.new_about', {})} onClick={() => go('/?do=new')} main />
              <Start
                icon="folder"
                title={t('projects.open', {})}
                about={t('projects.open_about', {})}
                onClick={() => choose('open_project', '', (path) => open(path))}
              />
              <Start
                icon="filter"
                title={t('projects.demo', {})}
                about={t('projects.demo_about', {})}
                onClick={() => {
                  setFailedOpen(null)
                  enter.mutate({ what: null, path: null, open: () => api.files.openDemo() })
                }}
              />
              <Start icon="open" title={t('projects.import', {})} about={t('projects.import_about', {})} onClick={importExchange} />
            </section>
            <RecentProjects recent={files?.recent ?? []} onOpen={(path) => open(path)} />
          </div>
        )}
        <footer className={styles.limits}>{t('projects.limits', {})}</footer>
      </div>
      {chooser.dialog}
    </main>
  )
}

function nameOf(path: string): string {
  return path.split(/[/\\]/).at(-1) ?? path
}

type StartProps = { icon: IconName; title: string; about: ReactNode; onClick: () => void; main?: boolean }

function Start({ icon, title, about, onClick, main }: StartProps) {
  return (
    <button type="button" className={styles.start} data-main={main ? '' : undefined} onClick={onClick}>
      <Icon name={icon} size={22} />
      <span className={styles.startTitle}>{title}</span>
      <span className={styles.startAbout}>{about}</span>
    </button>
  )
}

type OpenProblemProps = {
  before?: string
  failure: Failure
  path: string | null
  /** reading only was tried, and did not help */
  wasReadOnly?: boolean
  onReadOnly: (path: string) => void
  onBackups: (path: string) => void
  onDismiss: () => void
}

/** The sentence, and the next sensible step where there is one. */
function OpenProblem({ before, failure, path, wasReadOnly, onReadOnly, onBackups, onDismiss }: OpenProblemProps) {
  const t = useSay()
  const sentence = useSentence()
  const { kind } = failure
  return (
    <div className={styles.problem} role="alert">
      <Icon name="warn" size={20} />
      <p>
        {before} {sentence(failure.sentence)}
      </p>
      <div className={styles.problemActions}>
        {path !== null && !wasReadOnly && (kind === 'locked' || kind === 'read_only') ? (
          <Button kind="primary" onClick={() => onReadOnly(path)}>
            {t('app.failure.open_read_only', {})}
          </Button>
        ) : null}
        {path !== null && kind === 'damaged_file' && !path.includes('.facegrid-backups') ? (
          <Button kind="primary" onClick={() => onBackups(path)}>
            {t('projects.look_at_backups', {})}
          </Button>
        ) : null}
        <Button onClick={onDismiss}>{t('app.close', {})}</Button>
      </div>
    </div>
  )
}
