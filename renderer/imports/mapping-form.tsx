import { useState } from 'react'
import type { ImportLook } from '#core/api/imports.ts'
import { HEAD_WITHIN_ROWS } from '#core/imports/head.ts'
import { proposeFor, timesOf } from '#core/imports/propose.ts'
import type { Entity } from '#core/model/entities.ts'
import type { ImportColumns, ImportMapping } from '#core/model/import-mapping.ts'
import { UNITS } from '#core/model/values.ts'
import { dimensionOf, unitLabel } from '#core/units/units.ts'
import { useChange } from '../app/change.ts'
import { newId, useCanChange, useSay } from '../app/session.tsx'
import type { KnownInstrument } from '../instruments/use-instruments.ts'
import { Button } from '../ui/button.tsx'
import { Panel } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import { TextField } from '../ui/text-field.tsx'
import { useToast } from '../ui/toast.tsx'
import { FieldGroup } from './field-group.tsx'
import styles from './import.module.css'
import { TimeFormat } from './time-format.tsx'

type MappingFormProps = {
  look: ImportLook
  mapping: ImportMapping
  mappings: readonly Entity<'import_mapping'>[]
  intoRun: boolean
  instruments: readonly KnownInstrument[]
  instrumentId: string | null
  firstPoint: number | null
  onMapping: (mapping: ImportMapping) => void
  onDelimiter: (delimiter: ImportMapping['delimiter']) => void
  onInstrument: (id: string) => void
  onFirstPoint: (point: number | null) => void
}

type Use = keyof ImportColumns
const USES: readonly Use[] = ['value', 'terminal', 'point', 'sample', 'time', 'date', 'unit', 'quantity', 'instrument']
const NONE = 'none'
const PROPOSED = 'proposed'
const MEASURED = UNITS.filter((unit) => ['velocity', 'flow', 'pressure'].includes(dimensionOf(unit)))

/** What each column of the file holds and how its numbers and times are written. */
export function MappingForm(props: MappingFormProps) {
  const { look, mapping, mappings, intoRun, instruments, instrumentId, firstPoint, onMapping, onDelimiter, onInstrument, onFirstPoint } =
    props
  const t = useSay()
  const set = (change: Partial<ImportMapping>) => onMapping({ ...mapping, ...change })
  const saved = mappings.find(({ body }) => body.name === mapping.name) ?? null
  const head = mapping.headerRow === null ? [] : (look.rows[mapping.headerRow - 1] ?? [])
  const width = Math.max(1, ...look.rows.slice(0, HEAD_WITHIN_ROWS).map((cells) => cells.length))
  const columns = Array.from({ length: width }, (_, index) => ({
    value: String(index + 1),
    label: t('import.column.named', { column: index + 1, head: head[index]?.trim() ?? '' }),
  }))
  const sweep = mapping.columns.terminal === null && mapping.columns.point === null
  return (
    <Panel title={t('import.how', {})}>
      <FieldGroup title={t('import.group.file', {})}>
        <Select
          label={t('import.mapping', {})}
          value={saved?.id ?? PROPOSED}
          choices={[
            { value: PROPOSED, label: t('import.mapping.proposed', {}) },
            ...mappings.map(({ id, body }) => ({
              value: id,
              label: body.name,
              ...(look.fitting.includes(id) ? { detail: t('import.mapping.fits', {}) } : {}),
            })),
          ]}
          onChange={(id) => onMapping(mappings.find((candidate) => candidate.id === id)?.body ?? look.proposed)}
        />
        <Select
          label={t('import.delimiter', {})}
          value={mapping.delimiter}
          choices={[
            { value: ',', label: t('import.delimiter.comma', {}) },
            { value: ';', label: t('import.delimiter.semicolon', {}) },
            { value: '\t', label: t('import.delimiter.tab', {}) },
          ]}
          onChange={onDelimiter}
        />
        <HeadRow key={`${look.path} ${mapping.headerRow}`} look={look} mapping={mapping} onMapping={onMapping} />
        <Select
          label={t('import.decimal', {})}
          value={mapping.decimal ?? 'any'}
          choices={[
            { value: 'point', label: t('import.decimal.point', {}) },
            { value: 'comma', label: t('import.decimal.comma', {}) },
            { value: 'any', label: t('import.decimal.any', {}) },
          ]}
          onChange={(decimal) => set({ decimal: decimal === 'any' ? null : decimal })}
        />
      </FieldGroup>
      <FieldGroup title={t('import.group.rows', {})}>
        <Select
          label={t('import.instrument', {})}
          value={instrumentId}
          placeholder={t('import.instrument.pick', {})}
          choices={instruments.map(({ instrument }) => ({
            value: instrument.id,
            label: instrument.body.name,
            detail: instrument.body.serialNumber,
          }))}
          onChange={onInstrument}
        />
        <Select
          label={t('import.unit', {})}
          value={mapping.unit ?? NONE}
          choices={[
            { value: NONE, label: t('import.unit.open', {}) },
            ...MEASURED.map((unit) => ({ value: unit, label: unitLabel(unit) })),
          ]}
          onChange={(unit) => set({ unit: unit === NONE ? null : unit })}
        />
        {mapping.columns.time === null && mapping.columns.date === null ? null : (
          <TimeFormat
            key={look.path}
            format={mapping.timeFormat}
            times={timesOf(look.rows.slice(mapping.headerRow ?? 0), mapping.columns)}
            onFormat={(timeFormat) => set({ timeFormat })}
          />
        )}
        {intoRun && sweep ? (
          <TextField
            label={t('import.first_point', {})}
            hint={t('import.first_point_hint', {})}
            type="number"
            value={firstPoint === null ? '' : String(firstPoint)}
            onChange={(text) => onFirstPoint(/^[1-9]\d*$/.test(text) ? Number(text) : null)}
          />
        ) : null}
      </FieldGroup>
      <FieldGroup title={t('import.group.columns', {})}>
        {USES.map((use) => (
          <Select
            key={use}
            label={t(`import.column.${use}`, {})}
            value={mapping.columns[use] === null ? NONE : String(mapping.columns[use])}
            choices={use === 'value' ? columns : [{ value: NONE, label: t('import.column.none', {}) }, ...columns]}
            error={use === 'terminal' && !intoRun && mapping.columns.terminal === null ? t('import.column.tag_needed', {}) : null}
            onChange={(column) => set({ columns: used(mapping.columns, use, column === NONE ? null : Number(column)) })}
          />
        ))}
      </FieldGroup>
      {sweep && intoRun ? <p className={styles.note}>{t('import.sweep', {})}</p> : null}
      <SaveMapping mapping={mapping} saved={saved} onMapping={onMapping} />
    </Panel>
  )
}

/** A column holds one thing: what it held before is in no column now. */
function used(columns: ImportColumns, use: Use, column: number | null): ImportColumns {
  const next = { ...columns }
  for (const other of USES) if (other !== use && other !== 'value' && next[other] === column) next[other] = null
  if (use === 'value') next.value = column ?? columns.value
  else next[use] = column
  return next
}

function HeadRow({ look, mapping, onMapping }: Pick<MappingFormProps, 'look' | 'mapping' | 'onMapping'>) {
  const t = useSay()
  const most = Math.min(HEAD_WITHIN_ROWS, look.rows.length)
  const [text, setText] = useState(mapping.headerRow === null ? '' : String(mapping.headerRow))
  const row = text.trim() === '' ? null : Number(text)
  const bad = row !== null && !(Number.isInteger(row) && row >= 1 && row <= most)
  return (
    <TextField
      label={t('import.head_row', {})}
      hint={t('import.head_row_hint', {})}
      error={bad ? t('import.head_row_bad', { rows: most }) : null}
      value={text}
      onChange={(next) => {
        setText(next)
        const asked = next.trim() === '' ? null : Number(next)
        if (asked !== null && !(Number.isInteger(asked) && asked >= 1 && asked <= most)) return
        onMapping(proposeFor(look.rows, mapping.delimiter, mapping.name, asked))
      }}
    />
  )
}

function SaveMapping({
  mapping,
  saved,
  onMapping,
}: {
  mapping: ImportMapping
  saved: Entity<'import_mapping'> | null
  onMapping: (mapping: ImportMapping) => void
}) {
  const t = useSay()
  const toast = useToast()
  const canChange = useCanChange()
  const change = useChange()
  const unchanged = saved !== null && JSON.stringify(saved.body) === JSON.stringify(mapping)
  const save = () =>
    change.mutate(
      {
        name: saved ? 'edit' : 'create',
        changes: [{ kind: 'import_mapping', id: saved?.id ?? newId(), parentId: null, revision: saved?.revision ?? null, body: mapping }],
      },
      { onSuccess: () => toast.note(t('import.mapping.saved', { name: mapping.name })) },
    )
  return (
    <div className={styles.save}>
      <TextField
        label={t('import.mapping.name', {})}
        value={mapping.name}
        maxLength={120}
        onChange={(name) => onMapping({ ...mapping, name })}
      />
      <Button icon="save" disabled={!canChange || mapping.name.trim() === '' || unchanged || change.isPending} onClick={save}>
        {saved ? t('import.mapping.update', {}) : t('import.mapping.save', {})}
      </Button>
    </div>
  )
}
