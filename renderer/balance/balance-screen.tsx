import { keepPreviousData, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { orpc } from '../app/client.ts'
import { Gone } from '../app/gone.tsx'
import { useFailureText, useFormatter, useSay, useSession } from '../app/session.tsx'
import { useSitePlan } from '../app/site-plan.ts'
import { useNoWhy } from '../app/why.tsx'
import { Busy } from '../ui/busy.tsx'
import { Panel, ScreenHead } from '../ui/panel.tsx'
import { Select } from '../ui/select.tsx'
import styles from './balance.module.css'
import { DoorTable } from './door-table.tsx'
import { RoomTable } from './room-table.tsx'
import { SiteSums } from './site-sums.tsx'
import { SystemTable } from './system-table.tsx'
import { TransferTable } from './transfer-table.tsx'

const WHOLE_SITE = 'whole_site'

/** How the air of the site adds up in one certification: sums, rooms, doors, known transfers, air systems. */
export function BalanceScreen({ certificationId }: { certificationId: Uuid }) {
  useNoWhy()
  const t = useSay()
  const f = useFormatter()
  const failureText = useFailureText()
  const { certifications } = useSession()
  const { facilities } = useSitePlan()
  const [facilityId, setFacilityId] = useState<Uuid | null>(null)
  const input = { certificationId, facilityId }
  const site = useQuery(orpc.balance.site.queryOptions({ input, placeholderData: keepPreviousData }))
  const systems = useQuery(orpc.balance.systems.queryOptions({ input, placeholderData: keepPreviousData }))
  const certification = certifications.find(({ id }) => id === certificationId)
  const problem = site.error ?? systems.error
  if (problem) return <Gone icon="warn" title={failureText(problem)} />
  if (!site.data || !systems.data || !certification) return <Busy label={t('app.loading', {})} />
  const { data } = site
  return (
    <div className={styles.screen}>
      <ScreenHead
        title={t('balance.title', {})}
        about={t('balance.about', { certification: certification.body.name, of: data, kgpm3: data.standardKgpm3 })}
        actions={
          facilities.length > 1 ? (
            <Select
              label={t('balance.facility', {})}
              value={facilityId ?? WHOLE_SITE}
              choices={[
                { value: WHOLE_SITE, label: t('balance.whole_site', {}) },
                ...facilities.map(({ facility }) => ({ value: facility.id, label: facility.body.name })),
              ]}
              onChange={(id) => setFacilityId(id === WHOLE_SITE ? null : id)}
            />
          ) : undefined
        }
      />
      <Panel title={t('balance.site', {})}>
        <SiteSums balance={data} />
      </Panel>
      <Panel title={t('balance.rooms_in', { unit: f.unit('flow') })} flush>
        <RoomTable balance={data} />
      </Panel>
      <Panel title={t('balance.systems', {})} flush>
        <SystemTable balance={systems.data} />
      </Panel>
      <Panel title={t('balance.doors', {})} flush>
        <DoorTable balance={data} />
        <p className={styles.note}>{t('balance.caution', {})}</p>
      </Panel>
      <Panel title={t('balance.transfers', {})} flush>
        <TransferTable balance={data} />
      </Panel>
    </div>
  )
}
