import { useInfiniteQuery } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { Link, useSearchParams } from 'wouter'
import type { AuditEntry } from '#core/model/audit.ts'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { useCommandWord } from '../app/command-word.ts'
import { useFailureText, useFormatter, useSay, useSentence } from '../app/session.tsx'
import { useWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { TextField } from '../ui/text-field.tsx'
import styles from './audit.module.css'
import { EntryWhy } from './entry-why.tsx'
import { useNames } from './names.ts'
import { subjectsOf } from './subject.ts'

const PAGE = 100

type Before = { segmentId: Uuid; number: number } | null

/** Who, when, what before and after, why. */
export function AuditScreen() {
  const t = useSay()
  const failureText = useFailureText()
  const names = useNames()
  const why = useWhy()
  const [search] = useSearchParams()
  const about = search.get('about')
  const [text, setText] = useState('')
  const [selected, setSelected] = useState<string | null>(null)
  const pages = useInfiniteQuery(
    orpc.audit.list.infiniteOptions({
      input: (before: Before) => ({ about, before, limit: PAGE }),
      initialPageParam: null as Before,
      getNextPageParam: (page) => {
        const last = page.entries.at(-1)
        return page.more && last ? { segmentId: last.segmentId, number: last.number } : undefined
      },
    }),
  )
  const entries = pages.data?.pages.flatMap((page) => page.entries) ?? []
  const columns = useColumns(names)
  const wanted = text.trim().toLocaleLowerCase()
  const lineOf = useLineOf(names)
  const shown = wanted === '' ? entries : entries.filter((entry) => lineOf(entry).toLocaleLowerCase().includes(wanted))
  const seek = useSeek(pages, wanted === '' ? null : shown.length)
  const entry = entries.find((candidate) => candidate.hash === selected) ?? shown[0] ?? null

  return (
    <div className={styles.screen}>
      <ScreenHead title={t('audit.title', {})} about={t('audit.about', {})} />
      <div className={styles.bar}>
        <TextField className={styles.find} type="search" label={t('audit.find', {})} value={text} onChange={setText} maxLength={80} />
        {about ? (
          <p className={styles.filtered}>
            {t('audit.filtered', { what: names.get(about) ?? t('audit.filter.this', {}) })}
            <Link href="/audit">{t('audit.filter.all', {})}</Link>
          </p>
        ) : null}
      </div>
      {pages.isPending ? <Busy label={t('audit.reading', {})} /> : null}
      {pages.isError ? <p role="alert">{failureText(pages.error)}</p> : null}
      {pages.isSuccess ? (
        <DataTable
          className={styles.table}
          caption={t('audit.title', {})}
          columns={columns}
          rows={shown}
          rowKey={(row) => row.hash}
          selectedKey={entry?.hash ?? null}
          onFocusRow={(row) => setSelected(row.hash)}
          onSelect={(row) => {
            setSelected(row.hash)
            why.setOpen(true)
          }}
          empty={
            wanted === '' ? (
              <EmptyState icon="trail" title={t('audit.empty', {})}>
                {t('audit.empty_text', {})}
              </EmptyState>
            ) : (
              <p>{t('audit.nothing_found', { text: text.trim() })}</p>
            )
          }
        />
      ) : null}
      {pages.hasNextPage && wanted !== '' ? (
        <Button onClick={seek.isSeeking ? seek.stop : seek.start} large>
          {seek.isSeeking ? t('audit.seek.stop', { read: entries.length }) : t('audit.seek', { text: text.trim() })}
        </Button>
      ) : pages.hasNextPage ? (
        <Button onClick={() => void pages.fetchNextPage()} disabled={pages.isFetchingNextPage} large>
          {t('audit.more', {})}
        </Button>
      ) : pages.isSuccess && entries.length > 0 ? (
        <p className={styles.faint}>{t('audit.end', {})}</p>
      ) : null}
      {entry ? <EntryWhy entry={entry} names={names} /> : null}
    </div>
  )
}

type Pages = { readonly hasNextPage: boolean; readonly isFetchingNextPage: boolean; readonly fetchNextPage: () => unknown }

/** Reads earlier entries, page after page, until one more fits what is looked for, or the trail ends. `found` is null while nothing is. */
function useSeek({ hasNextPage, isFetchingNextPage, fetchNextPage }: Pages, found: number | null) {
  const [before, setBefore] = useState<number | null>(null)
  const isSeeking = before !== null && found === before && hasNextPage
  useEffect(() => {
    if (isSeeking && !isFetchingNextPage) void fetchNextPage()
  }, [isSeeking, isFetchingNextPage, fetchNextPage])
  return { isSeeking, start: () => setBefore(found), stop: () => setBefore(null) }
}

function useAboutText(names: ReadonlyMap<Uuid, string>): (entry: AuditEntry) => string {
  const t = useSay()
  const sentence = useSentence()
  return (entry) => {
    const subjects = subjectsOf(entry)
    const readings = entry.changes.filter((change) => change.what === 'reading' || change.what === 'readings')
    const count = readings.reduce((sum, change) => sum + (change.what === 'readings' ? change.count : 1), 0)
    const runId = readings[0]?.runId
    if (runId) return t('audit.about.readings', { count, run: names.get(runId) ?? t('audit.about.run', {}) })
    const told = subjects.slice(0, 3).map((subject) => {
      const named = subject.label ?? names.get(subject.id)
      if (subject.kind === 'run') return named ?? t('audit.about.run', {})
      const kind = sentence({ code: `app.find.kind.${subject.kind}`, params: {} })
      return named ? `${kind} ${named}` : kind
    })
    if (subjects.length > told.length) told.push(t('audit.and_more', { count: subjects.length - told.length }))
    return told.join(', ')
  }
}

/** An entry as one text, for finding. */
function useLineOf(names: ReadonlyMap<Uuid, string>): (entry: AuditEntry) => string {
  const word = useCommandWord()
  const format = useFormatter()
  const aboutText = useAboutText(names)
  return (entry) =>
    [format.dateTime(entry.at), names.get(entry.personId) ?? '', word(entry.command), aboutText(entry), entry.reason].join(' ')
}

function useColumns(names: ReadonlyMap<Uuid, string>): Column<AuditEntry>[] {
  const t = useSay()
  const word = useCommandWord()
  const format = useFormatter()
  const aboutText = useAboutText(names)
  const why = useWhy()
  return [
    {
      key: 'at',
      heading: t('audit.column.at', {}),
      cell: (entry) => (
        <button type="button" className={styles.open} onClick={() => why.setOpen(true)}>
          {format.dateTime(entry.at)}
        </button>
      ),
    },
    {
      key: 'person',
      heading: t('audit.column.person', {}),
      cell: (entry) => <span className={styles.nowrap}>{names.get(entry.personId) ?? t('audit.someone', {})}</span>,
    },
    { key: 'did', heading: t('audit.column.did', {}), cell: (entry) => word(entry.command) },
    { key: 'about', heading: t('audit.column.about', {}), cell: (entry) => aboutText(entry) },
    { key: 'reason', heading: t('audit.column.reason', {}), cell: (entry) => <span className={styles.reason}>{entry.reason}</span> },
    {
      key: 'number',
      heading: t('audit.column.number', {}),
      number: true,
      cell: (entry) => <span className={styles.faint}>{entry.number}</span>,
    },
  ]
}
