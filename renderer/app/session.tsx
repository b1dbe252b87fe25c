import { useQuery } from '@tanstack/react-query'
import { createContext, type ReactNode, use, useCallback, useEffect, useMemo, useState } from 'react'
import type { z } from 'zod'
import type { FilesState, OpenFile } from '#core/api/files.ts'
import { LANGUAGES, type Language } from '#core/messages/say.ts'
import type { Entity } from '#core/model/entities.ts'
import type { Uuid } from '#core/model/values.ts'
import { latestCertification } from './certification-shown.ts'
import { api, orpc, queryClient } from './client.ts'
import { setCurrentPerson } from './current-person.ts'
import { readView } from './last-view.ts'
import { WordsProvider } from './words.tsx'

export { newCommand, newId } from './current-person.ts'
export { useFailureText, useFormatter, useLocale, useSay, useSentence } from './words.tsx'

export type FilesStateData = z.infer<typeof FilesState>
export type OpenFileData = z.infer<typeof OpenFile>
export type Theme = FilesStateData['theme']

type Session = {
  files: FilesStateData | null
  problem: unknown
  project: Entity<'project'> | null
  people: readonly Entity<'person'>[]
  person: Entity<'person'> | null
  setPerson: (id: Uuid | null) => void
  certifications: readonly Entity<'certification'>[]
  certification: Entity<'certification'> | null
  showCertification: (id: Uuid) => void
  theme: Theme
  setTheme: (theme: Theme) => void
  /** the first answers about an open project are there */
  ready: boolean
}

const SessionContext = createContext<Session | null>(null)

const HEAD_KINDS = ['project', 'person', 'certification'] as const

export function SessionProvider({ children }: { children: ReactNode }) {
  const files = useQuery(orpc.files.state.queryOptions())
  const open = files.data?.open ?? null
  const heads = useQuery(orpc.entities.list.queryOptions({ input: { kinds: [...HEAD_KINDS], within: null }, enabled: open !== null }))
  // Another project may have been opened in another window: what is still about the one before does not count.
  const isOfOpen = heads.data?.some((entity) => entity.kind === 'project' && entity.id === open?.projectId) ?? false
  const entities = isOfOpen ? (heads.data ?? NONE) : NONE
  const project = useMemo(() => entities.find((entity) => entity.kind === 'project') ?? null, [entities])
  const people = useMemo(() => entities.filter((entity) => entity.kind === 'person'), [entities])
  const certifications = useMemo(() => entities.filter((entity) => entity.kind === 'certification'), [entities])

  const [picked, setPicked] = useState<{ projectId: Uuid; personId: Uuid | null } | null>(null)
  const personId = picked && picked.projectId === open?.projectId ? picked.personId : (open?.lastPersonId ?? null)
  const person = people.find((candidate) => candidate.id === personId && candidate.body.active) ?? null
  useEffect(() => setCurrentPerson(person?.id ?? null), [person?.id])
  const projectId = open?.projectId ?? null
  const setPerson = useCallback(
    (id: Uuid | null) => {
      if (!projectId) return
      setPicked({ projectId, personId: id })
      setCurrentPerson(id)
      if (id) void api.files.settings({ personId: id })
    },
    [projectId],
  )

  const [shown, setShown] = useState<{ projectId: Uuid; certificationId: Uuid } | null>(null)
  const shownId = shown && shown.projectId === open?.projectId ? shown.certificationId : readView(open?.lastView ?? null).certificationId
  const showCertification = useCallback(
    (certificationId: Uuid) => (projectId ? setShown({ projectId, certificationId }) : undefined),
    [projectId],
  )
  const certification = certifications.find((candidate) => candidate.id === shownId) ?? latestCertification(certifications)

  const theme = files.data?.theme ?? 'system'
  const setTheme = useCallback((next: Theme) => {
    queryClient.setQueryData(orpc.files.state.queryKey(), (state: FilesStateData | undefined) => state && { ...state, theme: next })
    void api.files.settings({ theme: next })
  }, [])

  const session: Session = {
    files: files.data ?? null,
    problem: files.error ?? heads.error,
    project,
    people,
    person,
    setPerson,
    certifications,
    certification,
    showCertification,
    theme,
    setTheme,
    ready: open === null ? files.data !== undefined : project !== null,
  }
  return (
    <SessionContext value={session}>
      <WordsProvider
        language={languageOf(files.data?.language)}
        display={project?.body.display ?? null}
        timeZone={project?.body.timeZone ?? null}
      >
        {children}
      </WordsProvider>
    </SessionContext>
  )
}

const NONE: Entity[] = []

/** `?language=pseudo` in the address wins over the setting. */
function languageOf(setting: string | undefined): Language {
  const asked = new URLSearchParams(window.location.search).get('language') ?? setting
  return LANGUAGES.find((language) => language === asked) ?? 'en'
}

export function useSession(): Session {
  const session = use(SessionContext)
  if (!session) throw new Error('No SessionProvider above this component')
  return session
}

/** The person working now; null until one is picked. */
export function usePerson(): Entity<'person'> | null {
  return useSession().person
}

/** The open project's settings. Only below the shell, where a project is open. */
export function useProject(): Entity<'project'> {
  const { project } = useSession()
  if (!project) throw new Error('No project is open above this component')
  return project
}

/** The open file: path, name, whether it can be changed. Only below the shell. */
export function useOpenFile(): OpenFileData {
  const open = useSession().files?.open
  if (!open) throw new Error('No project is open above this component')
  return open
}

/** False when the file is open for reading only or nobody is picked: commands that change something are then disabled. */
export function useCanChange(): boolean {
  const { files, person } = useSession()
  return files?.open?.readOnly === false && person !== null
}

/** The certification that the whole window speaks of: the newest until another is chosen in the strip. */
export function useShownCertification(): Entity<'certification'> | null {
  return useSession().certification
}
