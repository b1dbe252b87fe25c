import type { CommandName } from '#core/model/audit.ts'
import type { EntityBody } from '#core/model/entities.ts'
import { proposeGrid } from '#core/planning/grid.ts'
import { useSay } from '#renderer/app/session.tsx'
import { CommittedNumber } from './committed-fields.tsx'
import styles from './panel.module.css'

type Body = EntityBody<'terminal'>
type GridFieldsProps = {
  /** of all that is selected; null where it is the proposed one, or they differ */
  grid: Body['grid']
  /** null where faces of several sizes are selected */
  proposal: NonNullable<Body['grid']> | null
  all: (name: CommandName, next: (body: Body) => Body) => void
}

/** Rows and columns of the points under a face, where they are not the proposed ones. */
export function GridFields({ grid, proposal, all }: GridFieldsProps) {
  const t = useSay()
  const hint = grid
    ? t('map.prop.grid_own', {})
    : proposal
      ? t('map.prop.grid_proposed', { rows: proposal.rows, columns: proposal.columns })
      : undefined
  return (
    <div className={styles.pair}>
      <CommittedNumber
        label={t('map.prop.grid_rows', {})}
        hint={hint}
        value={grid?.rows ?? null}
        least={1}
        most={40}
        whole
        optional
        onCommit={(rows) => all('edit', (body) => withGrid(body, rows, 'rows'))}
      />
      <CommittedNumber
        label={t('map.prop.grid_columns', {})}
        value={grid?.columns ?? null}
        least={1}
        most={40}
        whole
        optional
        onCommit={(columns) => all('edit', (body) => withGrid(body, columns, 'columns'))}
      />
    </div>
  )
}

function withGrid(body: Body, count: number | null, side: 'rows' | 'columns'): Body {
  if (count === null) return { ...body, grid: null }
  const grid = body.grid ?? proposeGrid({ widthM: body.grossWidth.si, depthM: body.grossDepth.si })
  return { ...body, grid: { ...grid, [side]: count } }
}
