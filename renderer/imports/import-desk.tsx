import { useState } from 'react'
import type { ImportInto, ImportLook } from '#core/api/imports.ts'
import type { ImportMapping } from '#core/model/import-mapping.ts'
import type { Quantity } from '#core/model/values.ts'
import { api } from '../app/client.ts'
import { useCanChange, useSay } from '../app/session.tsx'
import { useInstruments } from '../instruments/use-instruments.ts'
import { usePlaceChooser } from '../projects/choose-place.tsx'
import type { RunPlan } from '../readings/run-plan.ts'
import { Busy } from '../ui/busy.tsx'
import { Button } from '../ui/button.tsx'
import { useToast } from '../ui/toast.tsx'
import { FileFate, FoundReadings } from './file-preview.tsx'
import styles from './import.module.css'
import { ImportEnd } from './import-end.tsx'
import { MappingForm } from './mapping-form.tsx'
import { RawRows } from './raw-rows.tsx'
import { SavedMappings, useMappings } from './saved-mappings.tsx'
import { useImport } from './use-import.ts'

/** What terminals are measured by: a thermometer or a barometer reads none of it. */
const LOGGED: ReadonlySet<Quantity> = new Set(['velocity', 'flow', 'velocity_pressure', 'pressure_difference'])

/** A file on its way to readings: chosen, mapped, seen row by row, kept. */
export function ImportDesk({ into, plan }: { into: ImportInto; plan: RunPlan | null }) {
  const t = useSay()
  const toast = useToast()
  const canChange = useCanChange()
  const { choose, dialog } = usePlaceChooser()
  const mappings = useMappings()
  const { instruments } = useInstruments()
  const [look, setLook] = useState<ImportLook | null>(null)
  const [looking, setLooking] = useState(false)
  const [mapping, setMapping] = useState<ImportMapping | null>(null)
  const [pickedInstrument, setInstrument] = useState<string | null>(null)
  const [firstPoint, setFirstPoint] = useState<number | null>(null)
  const [again, setAgain] = useState(false)
  const [chosen, setChosen] = useState(0)

  const active =
    instruments?.filter(({ instrument: { body } }) => body.active && body.senses.some(({ quantity }) => LOGGED.has(quantity))) ?? []
  const only = active.length === 1 ? (active[0]?.instrument.id ?? null) : null
  const instrumentId = pickedInstrument ?? only
  const order =
    look && mapping && (instrumentId !== null || mapping.columns.instrument !== null)
      ? { path: look.path, into: into.kind === 'run' ? { ...into, firstPoint } : into, mapping, instrumentId, again }
      : null
  const { seen, keep } = useImport(order, chosen)

  const lookAt = async (path: string, delimiter: ImportMapping['delimiter'] | null) => {
    setLooking(true)
    try {
      const answer = await api.imports.look({ path, delimiter })
      setLook(answer)
      setChosen((times) => times + 1)
      setAgain(false)
      const [fitting] = mappings.filter(({ id }) => answer.fitting.includes(id))
      setMapping(delimiter === null && fitting ? fitting.body : answer.proposed)
    } catch (error) {
      toast.problem(error)
    } finally {
      setLooking(false)
    }
  }
  const chooseFile = () => choose('open_delimited', '', (path) => void lookAt(path, null))

  const onBack = () => {
    // What kept the file out may have gone, or come, since its rows were looked at.
    if (keep.outcome?.imported) setLook(null)
    else seen.start()
    keep.forget()
  }
  if (keep.running || keep.outcome || keep.cancelled || keep.failed) {
    return <ImportEnd into={into} keep={keep} onBack={onBack} />
  }
  return (
    <div className={styles.desk}>
      {dialog}
      <div className={styles.fileLine}>
        <Button icon="open" large kind={look ? 'plain' : 'primary'} onClick={chooseFile}>
          {look ? t('import.other_file', {}) : t('import.choose_file', {})}
        </Button>
        {look ? (
          <p>{t('import.file', { name: look.name, bytes: look.bytes, encoding: look.encoding })}</p>
        ) : (
          <p className={styles.quiet}>{t('import.start', {})}</p>
        )}
      </div>
      {looking ? <Busy label={t('import.looking', {})} /> : null}
      {look ? null : <SavedMappings />}
      {look && mapping ? (
        <div className={styles.seen}>
          <FileFate
            seen={seen}
            plan={plan}
            again={again}
            onAgain={setAgain}
            waitsForInstrument={order === null}
            canKeep={canChange}
            onKeep={keep.start}
          />
          <div className={styles.how}>
            <MappingForm
              look={look}
              mapping={mapping}
              mappings={mappings}
              intoRun={into.kind === 'run'}
              instruments={active}
              instrumentId={instrumentId}
              firstPoint={firstPoint}
              onMapping={setMapping}
              onDelimiter={(delimiter) => void lookAt(look.path, delimiter)}
              onInstrument={setInstrument}
              onFirstPoint={setFirstPoint}
            />
            <RawRows look={look} mapping={mapping} />
          </div>
          {seen.outcome && order ? <FoundReadings outcome={seen.outcome} /> : null}
        </div>
      ) : null}
    </div>
  )
}
