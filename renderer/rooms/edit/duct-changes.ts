import { ductTraverse } from '#core/methods/airflow/duct-layout.ts'
import type { EntityBody } from '#core/model/entities.ts'
import type { Duct, FlowElement } from '#core/model/terminals.ts'
import type { Entered } from '#core/model/values.ts'

type Terminal = EntityBody<'terminal'>

/** A duct as it is first described: the size of the face that was drawn, traversed by the usual rule of its shape. */
export function freshDuct({ grossWidth, grossDepth, kind }: Pick<Terminal, 'grossWidth' | 'grossDepth' | 'kind'>): Duct {
  return {
    section: { shape: 'rectangle', width: grossWidth, height: grossDepth },
    rule: 'log_tchebycheff',
    lines: null,
    pointsPerLine: null,
    measures: 'velocity',
    pitotCoefficient: 1,
    direction: kind === 'return_grille' ? 'return' : kind === 'exhaust_grille' ? 'exhaust' : 'supply',
    countsInRoom: false,
    straightBefore: null,
    straightAfter: null,
    cyclonic: null,
  }
}

export function freshFlowElement(diameter: Entered): FlowElement {
  const half = Number((diameter.si * 0.6).toFixed(4))
  const boreDiameter: Entered = { si: half, typed: String(half), unit: 'm' }
  return { kind: 'discharge', coefficient: 0.6, boreDiameter, ductDiameter: diameter, expansibility: 1, uncertaintyPercent: null }
}

/** Another shape brings the rule and numbers that belong to it; what was typed as width stays as the diameter and the other way round. */
export function withShape(duct: Duct, shape: Duct['section']['shape']): Duct {
  if (shape === duct.section.shape) return duct
  const rule = duct.rule === 'equal_area' ? 'equal_area' : shape === 'round' ? 'log_linear' : 'log_tchebycheff'
  const { section } = duct
  if (section.shape === 'round') {
    const { diameter } = section
    return { ...duct, rule, lines: null, pointsPerLine: null, section: { shape: 'rectangle', width: diameter, height: diameter } }
  }
  return { ...duct, rule, lines: null, pointsPerLine: null, section: { shape: 'round', diameter: section.width } }
}

/** A terminal made a duct section gets a duct to describe; everything else it holds stays. */
export function withKind(body: Terminal, kind: Terminal['kind']): Terminal {
  if (kind !== 'duct_section' || body.kind === kind) return { ...body, kind }
  return { ...body, kind, mounting: 'duct', duct: body.duct ?? freshDuct(body) }
}

/** The depths and ports of a traverse as a block of cells, for a spreadsheet or a sheet of paper. Lengths in m. */
export type DepthSheet = {
  readonly points: readonly { readonly place: number; readonly share: number; readonly depthM: number }[]
  /** where each line stands: m from the left wall, or degrees of a round duct */
  readonly ports: readonly number[]
  readonly count: number
}

export function depthSheet(duct: Duct): DepthSheet | { readonly problem: 'rule' | 'size' | 'lines' | 'points_per_line' } {
  const layout = ductTraverse(duct)
  if ('problem' in layout) return layout
  const first = layout.points.filter(({ line }) => line === 1)
  return {
    points: first.map(({ place, share, insertionM }) => ({ place, share, depthM: insertionM })),
    ports: layout.ports,
    count: layout.points.length,
  }
}

/** Cells parted by tabs, lines by line feeds: how spreadsheets take a pasted block. */
export function asBlock(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => row.join('\t')).join('\n')
}
