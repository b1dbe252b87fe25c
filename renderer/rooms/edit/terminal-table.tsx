import type { EntityChange } from '#core/api/entities.ts'
import type { CommandName } from '#core/model/audit.ts'
import type { Entity, EntityBody } from '#core/model/entities.ts'
import { checkBody } from '#core/model/rules.ts'
import type { Entered } from '#core/model/values.ts'
import { useFormatter, useProject, useSay } from '#renderer/app/session.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { type Column, DataTable } from '#renderer/ui/data-table.tsx'
import { CommittedEntered, CommittedText } from './committed-fields.tsx'
import { shownLength } from './length-entry.ts'
import { resized } from './resized-face.ts'
import { edited } from './room-changes.ts'
import styles from './terminal-table.module.css'

type TerminalTableProps = {
  terminals: readonly Entity<'terminal'>[]
  selection: ReadonlySet<string>
  onSelect: (ids: ReadonlySet<string>) => void
  change: (name: CommandName, changes: readonly EntityChange[], reason?: string) => void
}

/** Every terminal as a line: all that the picture can do to places and sizes, in cells. */
export function TerminalTable({ terminals, selection, onSelect, change }: TerminalTableProps) {
  const t = useSay()
  const formatter = useFormatter()
  const { display } = useProject().body
  const unit = display.length
  const put = (terminal: Entity<'terminal'>, name: CommandName, body: EntityBody<'terminal'>) => change(name, [edited(terminal, body)])
  const select = (id: string, on: boolean) => {
    const next = new Set(selection)
    if (on) next.add(id)
    else next.delete(id)
    onSelect(next)
  }
  const place = (axis: 'x' | 'y'): Column<Entity<'terminal'>> => ({
    key: axis,
    heading: t(`map.prop.${axis}`, {}),
    number: true,
    sortBy: ({ body }) => body[axis],
    cell: (terminal) => (
      <CommittedEntered
        label={t('map.table.cell', { tag: terminal.body.tag, what: t(`map.prop.${axis}`, {}) })}
        hideLabel
        unit={unit}
        value={shownLength(terminal.body[axis], unit, formatter)}
        onCommit={(value) => value && put(terminal, 'move', { ...terminal.body, [axis]: value.si })}
      />
    ),
  })
  const size = (side: 'grossWidth' | 'grossDepth', heading: string): Column<Entity<'terminal'>> => {
    const next = (body: EntityBody<'terminal'>, value: Entered) => resized(body, { [side]: value })
    return {
      key: side,
      heading,
      number: true,
      sortBy: ({ body }) => body[side].si,
      cell: (terminal) => (
        <CommittedEntered
          label={t('map.table.cell', { tag: terminal.body.tag, what: heading })}
          hideLabel
          unit={unit}
          value={terminal.body[side]}
          refuse={(value) => checkBody('terminal', next(terminal.body, value))[0] ?? null}
          onCommit={(value) => value && put(terminal, 'resize', next(terminal.body, value))}
        />
      ),
    }
  }
  const columns: Column<Entity<'terminal'>>[] = [
    {
      key: 'selected',
      heading: (
        <Checkbox
          label={<span className="visually-hidden">{t('map.table.select_all', {})}</span>}
          checked={terminals.length > 0 && selection.size === terminals.length}
          mixed={selection.size > 0 && selection.size < terminals.length}
          onChange={(on) => onSelect(new Set(on ? terminals.map((terminal) => terminal.id) : []))}
        />
      ),
      cell: (terminal) => (
        <Checkbox
          label={<span className="visually-hidden">{t('map.table.select', { tag: terminal.body.tag })}</span>}
          checked={selection.has(terminal.id)}
          onChange={(on) => select(terminal.id, on)}
        />
      ),
    },
    {
      key: 'tag',
      heading: t('map.prop.tag', {}),
      rowHeading: true,
      sortBy: ({ body }) => body.tag,
      cell: (terminal) => (
        <CommittedText
          label={t('map.table.cell', { tag: terminal.body.tag, what: t('map.prop.tag', {}) })}
          hideLabel
          value={terminal.body.tag}
          refuse={(tag) => (tag === '' ? { code: 'map.field.empty', params: {} } : null)}
          onCommit={(tag) => put(terminal, 'rename', { ...terminal.body, tag })}
        />
      ),
    },
    {
      key: 'kind',
      heading: t('map.prop.kind', {}),
      sortBy: ({ body }) => body.kind,
      cell: ({ body }) => t('map.kind', { of: { kind: body.kind } }),
    },
    place('x'),
    place('y'),
    size('grossWidth', t('map.prop.width', {})),
    size('grossDepth', t('map.prop.depth', {})),
    {
      key: 'effectiveArea',
      heading: t('map.prop.effective_area', {}),
      unit: formatter.unit('area'),
      number: true,
      sortBy: ({ body }) => body.effectiveArea.si,
      cell: ({ body }) => formatter.number(body.effectiveArea.si, 'area'),
    },
    { key: 'closed', heading: t('map.face.closed', {}), cell: ({ body }) => body.closed?.reason ?? '' },
  ]
  return (
    <DataTable
      caption={t('map.table', {})}
      className={styles.table}
      columns={columns}
      rows={terminals}
      rowKey={(terminal) => terminal.id}
      empty={<p className={styles.empty}>{t('map.no_filters', {})}</p>}
    />
  )
}
