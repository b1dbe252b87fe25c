import type { ImportLook } from '#core/api/imports.ts'
import type { ImportColumns, ImportMapping } from '#core/model/import-mapping.ts'
import { useSay } from '../app/session.tsx'
import { Panel } from '../ui/panel.tsx'
import { scrolledByKeys } from '../ui/scrolled-by-keys.ts'
import styles from './import.module.css'

const SHOWN = 12

/** The first rows as they stand in the file, from a little above the head on, with what each column is taken for. */
export function RawRows({ look, mapping }: { look: ImportLook; mapping: ImportMapping }) {
  const t = useSay()
  const from = Math.max(0, (mapping.headerRow ?? 1) - 3)
  const rows = look.rows.slice(from, from + SHOWN)
  const width = Math.max(1, ...rows.map((cells) => cells.length))
  const columns = Array.from({ length: width }, (_, index) => index + 1)
  // The keys are the columns' uses by the type of the mapping.
  const uses = Object.entries(mapping.columns) as [keyof ImportColumns, number | null][]
  const heldBy = (column: number) => uses.find(([, at]) => at === column)?.[0] ?? null
  return (
    <Panel title={t('import.first_rows', {})} flush>
      <div className={styles.scroll} {...scrolledByKeys(t('import.first_rows', {}))}>
        <table className={styles.raw}>
          <thead>
            <tr>
              <th scope="col">{t('import.row', {})}</th>
              {columns.map((column) => {
                const use = heldBy(column)
                return (
                  <th key={column} scope="col" data-used={use ? '' : undefined}>
                    {use ? t(`import.column.${use}`, {}) : column}
                  </th>
                )
              })}
            </tr>
          </thead>
          <tbody>
            {rows.map((cells, index) => {
              const row = from + index + 1
              return (
                <tr
                  key={row}
                  data-head={row === mapping.headerRow ? '' : undefined}
                  data-above={row < (mapping.headerRow ?? 0) ? '' : undefined}
                >
                  <th scope="row">{row}</th>
                  {columns.map((column) => (
                    <td key={column}>{cells[column - 1] ?? ''}</td>
                  ))}
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
    </Panel>
  )
}
