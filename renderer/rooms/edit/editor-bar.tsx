import { useSay } from '#renderer/app/session.tsx'
import { Button } from '#renderer/ui/button.tsx'
import { Checkbox } from '#renderer/ui/checkbox.tsx'
import { Menu } from '#renderer/ui/menu.tsx'
import { Segmented } from '#renderer/ui/segmented.tsx'
import { ALIGNMENTS } from '../plan/alignment.ts'
import styles from './editor.module.css'
import type { EditorActions } from './editor-actions.ts'
import type { EditorTool } from './editor-gestures.ts'
import type { EditorTask } from './editor-keys.ts'

type EditorBarProps = {
  tool: EditorTool
  onTool: (tool: EditorTool) => void
  table: boolean
  onTable: (table: boolean) => void
  snap: boolean
  onSnap: (snap: boolean) => void
  actions: EditorActions
  onTask: (task: EditorTask) => void
  onRow: () => void
  onAll: () => void
  onDuctSection: () => void
}

const TOOLS: readonly EditorTool[] = ['select', 'place', 'zone', 'door', 'walls', 'outline']

/** Tools of the plan and what can be done with the selection. Every entry has a key on the plan, shown beside it. */
export function EditorBar({ tool, onTool, table, onTable, snap, onSnap, actions, onTask, onRow, onAll, onDuctSection }: EditorBarProps) {
  const t = useSay()
  const some = actions.chosen.length
  return (
    <div className={styles.bar} role="toolbar" aria-label={t('map.bar', {})}>
      <Segmented
        label={t('map.view', {})}
        value={table ? 'table' : 'plan'}
        choices={[
          { value: 'plan', label: t('map.view.plan', {}) },
          { value: 'table', label: t('map.view.table', {}) },
        ]}
        onChange={(view) => onTable(view === 'table')}
      />
      <span className={styles.split} />
      {table ? null : (
        <Segmented
          label={t('map.tool', {})}
          value={tool}
          choices={TOOLS.map((one) => ({ value: one, label: t('map.tool.choice', { of: { tool: one } }) }))}
          onChange={onTool}
        />
      )}
      <Button icon="filter" onClick={() => onTask('array')}>
        {t('map.array.open', {})}
      </Button>
      <Button icon="gauge" onClick={onDuctSection}>
        {t('measuring.duct.kind_place', {})}
      </Button>
      <Button icon="copy" disabled={some === 0} onClick={() => onTask('copy')}>
        {t('map.copy.open', {})}
      </Button>
      <Button icon="note" disabled={some === 0} onClick={() => onTask('tags')}>
        {t('map.tags.open', {})}
      </Button>
      <Menu
        trigger={<Button disabled={some < 2}>{t('map.align.open', {})}</Button>}
        entries={[
          ...ALIGNMENTS.map((to) => ({ label: t('map.align.to', { of: { to } }), onSelect: () => actions.align(to) })),
          {
            label: t('map.align.distribute', { of: { axis: 'across' } }),
            disabled: some < 3,
            startsGroup: true,
            onSelect: () => actions.distribute('across'),
          },
          { label: t('map.align.distribute', { of: { axis: 'up' } }), disabled: some < 3, onSelect: () => actions.distribute('up') },
        ]}
      />
      <Menu
        trigger={<Button>{t('map.select.open', {})}</Button>}
        entries={[
          { label: t('map.select.all', {}), keys: 'Ctrl A', onSelect: onAll },
          { label: t('map.select.row', {}), keys: 'R', disabled: some === 0, onSelect: onRow },
          { label: t('map.edit.remove', {}), keys: 'Del', disabled: some === 0, startsGroup: true, onSelect: actions.remove },
        ]}
      />
      {table ? null : <Checkbox label={t('map.snap', {})} checked={snap} onChange={onSnap} />}
    </div>
  )
}
