import type { SystemInBalance, SystemsBalance } from '#core/api/balance.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import styles from './balance.module.css'

/** What each air system moves in each direction against what its fan should move. */
export function SystemTable({ balance }: { balance: SystemsBalance }) {
  const t = useSay()
  const columns = useColumns()
  return (
    <>
      <DataTable
        caption={t('balance.systems', {})}
        columns={columns}
        rows={balance.systems}
        rowKey={({ airSystemId, direction }) => `${airSystemId} ${direction}`}
        empty={<p className={styles.note}>{t('balance.no_systems', {})}</p>}
      />
      {balance.systems.length > 0 ? <p className={styles.note}>{t('balance.systems_about', { of: balance })}</p> : null}
    </>
  )
}

function useColumns(): Column<SystemInBalance>[] {
  const t = useSay()
  const f = useFormatter()
  const flow = (key: 'flowM3ps' | 'inDuctM3ps' | 'designFlowM3ps', heading: string): Column<SystemInBalance> => ({
    key,
    heading,
    unit: f.unit('flow'),
    number: true,
    sortBy: (row) => row[key],
    cell: (row) => f.number(row[key], 'flow'),
  })
  return [
    {
      key: 'system',
      heading: t('balance.system', {}),
      sortBy: ({ name }) => name,
      cell: ({ name, missing, soFarM3ps }) => (
        <>
          {name}
          {missing.length > 0 ? <span className={styles.gap}>{t('balance.missing', { missing, soFar: soFarM3ps })}</span> : null}
        </>
      ),
    },
    { key: 'direction', heading: t('balance.direction', {}), cell: (row) => t('balance.direction.name', { of: row }) },
    { key: 'terminals', heading: t('balance.terminals', {}), number: true, cell: ({ terminals }) => terminals },
    flow('flowM3ps', t('balance.terminal_sum', {})),
    flow('inDuctM3ps', t('balance.in_duct', {})),
    flow('designFlowM3ps', t('balance.design', {})),
    {
      key: 'percent',
      heading: t('balance.of_design', {}),
      unit: f.unit('percent'),
      number: true,
      sortBy: ({ percentOfDesign }) => percentOfDesign,
      cell: ({ percentOfDesign }) => f.number(percentOfDesign, 'percent'),
    },
  ]
}
