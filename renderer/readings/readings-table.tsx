import { useMemo } from 'react'
import type { Reading } from '#core/model/readings.ts'
import { unitLabel } from '#core/units/units.ts'
import { useFormatter, useSay, useSession } from '../app/session.tsx'
import { joined } from '../ui/class-names.ts'
import styles from './filter-why.module.css'
import { roomFor, sharedForm } from './number-form.ts'
import type { FilterView, RunDesk } from './run-desk.ts'
import type { HandInstrument } from './use-hand-instrument.ts'
import { useFlagWord } from './words-of-states.ts'

/** Every reading of a filter that the project holds, voided repeats with their reasons: who, when, with what. */
export function ReadingsTable({ desk, view, instruments }: { desk: RunDesk; view: FilterView; instruments: readonly HandInstrument[] }) {
  const t = useSay()
  const f = useFormatter()
  const flagWord = useFlagWord()
  const { people } = useSession()
  const plan = desk.plan()
  const rows = useMemo(
    () => view.filter.points.flatMap((point, index) => desk.stored(point.number).map((reading) => ({ reading, order: index + 1 }))),
    // The view is made anew whenever a number of this filter changes.
    [view, desk],
  )
  const form = useMemo(() => sharedForm(rows.map(({ reading }) => reading.typed)), [rows])
  const voided = rows.filter(({ reading }) => reading.voided).length
  const nameOf = (id: string) => people.find((person) => person.id === id)?.body.name ?? ''
  const instrumentOf = (id: string) => [...plan.instruments, ...instruments].find((instrument) => instrument.id === id)?.body.name ?? ''
  return (
    <section className={styles.part}>
      <h3>{t('readings.why.readings', {})}</h3>
      {rows.length === 0 ? (
        <p className={styles.quiet}>{t('readings.why.none_yet', {})}</p>
      ) : (
        <table className={styles.table}>
          <thead>
            <tr>
              <th scope="col">{t('readings.why.col.point', {})}</th>
              <th scope="col">{t('readings.why.col.typed', {})}</th>
              <th scope="col">{t('readings.why.col.who', {})}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ reading, order }) => (
              <tr key={reading.id} className={joined(reading.voided && styles.voided)}>
                <td>{plan.run.body.samplesPerPoint > 1 ? `${order}·${reading.sample}` : order}</td>
                <td>
                  <span className={styles.typed} style={{ paddingLeft: `${roomFor(reading.typed, form).before}ch` }}>
                    {reading.typed.replace('-', '−')} {unitOf(reading)}
                  </span>
                  {reading.flags.map((flag) => (
                    <span key={flag} className={styles.flag}>
                      {flagWord(flag)}
                    </span>
                  ))}
                  {reading.note ? <span className={styles.more}>{t('readings.why.note', { note: reading.note })}</span> : null}
                  {reading.voided ? (
                    <span className={styles.more}>{t('readings.why.voided', { reason: reading.voided.reason })}</span>
                  ) : null}
                </td>
                <td>
                  {nameOf(reading.personId)}
                  <span className={styles.more}>{f.dateTime(reading.at)}</span>
                  <span className={styles.more}>{instrumentOf(reading.instrumentId)}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {voided > 0 ? <p className={styles.quiet}>{t('readings.why.voided_count', { count: voided })}</p> : null}
    </section>
  )
}

/** The unit, unless the person typed one himself. */
const unitOf = (reading: Reading) => (/[a-z/]/i.test(reading.typed) ? '' : unitLabel(reading.unit))
