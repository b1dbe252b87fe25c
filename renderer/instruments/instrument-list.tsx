import { useState } from 'react'
import { Link, useLocation } from 'wouter'
import { useCanChange, useFailureText, useFormatter, useSay } from '../app/session.tsx'
import { useNoWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { Checkbox } from '../ui/checkbox.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { EmptyState } from '../ui/empty-state.tsx'
import { ScreenHead } from '../ui/panel.tsx'
import { CalibrationMark, DoubtMark } from './calibration-mark.tsx'
import styles from './instruments.module.css'
import { type KnownInstrument, useInstruments } from './use-instruments.ts'

/** All instruments with what they measure and how their calibration stands today. */
export function InstrumentsScreen() {
  useNoWhy()
  const t = useSay()
  const failureText = useFailureText()
  const canChange = useCanChange()
  const [, go] = useLocation()
  const [showsWithdrawn, setShowsWithdrawn] = useState(false)
  const { instruments, error } = useInstruments()
  const columns = useColumns()
  const shown = (instruments ?? []).filter((known) => showsWithdrawn || known.instrument.body.active)
  const add = (
    <Button kind="primary" icon="add" disabled={!canChange} onClick={() => go('/instruments/new')}>
      {t('instruments.add', {})}
    </Button>
  )
  return (
    <div className={styles.screen}>
      <ScreenHead title={t('instruments.title', {})} about={t('instruments.about', {})} actions={add} />
      {error ? <p role="alert">{failureText(error)}</p> : null}
      {instruments === null && !error ? <Busy label={t('app.loading', {})} /> : null}
      {instruments?.length === 0 ? (
        <EmptyState icon="gauge" title={t('instruments.empty', {})} action={add}>
          {t('instruments.empty_text', {})}
        </EmptyState>
      ) : null}
      {instruments && instruments.length > 0 ? (
        <>
          <DataTable
            caption={t('instruments.title', {})}
            columns={columns}
            rows={shown}
            rowKey={(known) => known.instrument.id}
            onSelect={(known) => go(`/instruments/${known.instrument.id}`)}
          />
          {instruments.some((known) => !known.instrument.body.active) ? (
            <Checkbox label={t('instruments.show_withdrawn', {})} checked={showsWithdrawn} onChange={setShowsWithdrawn} />
          ) : null}
        </>
      ) : null}
    </div>
  )
}

function useColumns(): Column<KnownInstrument>[] {
  const t = useSay()
  const f = useFormatter()
  const due = (known: KnownInstrument) => ('dueOn' in known.state ? known.state.dueOn : null)
  return [
    {
      key: 'name',
      heading: t('instruments.column.name', {}),
      cell: ({ instrument }) => (
        <Link className={styles.name} href={`/instruments/${instrument.id}`}>
          {instrument.body.name}
        </Link>
      ),
      sortBy: ({ instrument }) => instrument.body.name,
    },
    {
      key: 'serial',
      heading: t('instruments.column.serial', {}),
      cell: ({ instrument }) => instrument.body.serialNumber,
      sortBy: ({ instrument }) => instrument.body.serialNumber,
    },
    {
      key: 'senses',
      heading: t('instruments.column.senses', {}),
      cell: ({ instrument }) => (
        <span className={styles.list}>
          {instrument.body.senses.map(({ quantity, low, high }) => (
            <span key={quantity}>
              {t('instruments.sensed', { quantity })} <span className={styles.range}>{t('instruments.range', { low, high })}</span>
            </span>
          ))}
        </span>
      ),
    },
    { key: 'sensing', heading: t('instruments.column.sensing', {}), cell: ({ instrument }) => <Sensing value={instrument.body.sensing} /> },
    {
      key: 'state',
      heading: t('instruments.column.state', {}),
      cell: (known) =>
        known.instrument.body.active || known.doubts.length > 0 ? (
          <span className={styles.list}>
            {known.instrument.body.active ? <CalibrationMark state={known.state} /> : <Withdrawn />}
            <DoubtMark doubts={known.doubts} />
          </span>
        ) : (
          <Withdrawn />
        ),
      sortBy: due,
    },
    {
      key: 'due',
      heading: t('instruments.column.due', {}),
      cell: (known) => {
        const on = due(known)
        return on === null ? null : f.date(on)
      },
      sortBy: due,
    },
  ]
}

function Withdrawn() {
  const t = useSay()
  return <span className={styles.faint}>{t('instruments.withdrawn', {})}</span>
}

function Sensing({ value }: { value: KnownInstrument['instrument']['body']['sensing'] }) {
  const t = useSay()
  if (value === 'directional') return t('instruments.sensing.directional', {})
  if (value === 'omnidirectional') return t('instruments.sensing.omnidirectional', {})
  return <span className={styles.faint}>{t('instruments.sensing.nothing', {})}</span>
}
