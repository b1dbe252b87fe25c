import { useMemo } from 'react'
import { Link, useLocation, useRoute } from 'wouter'
import type { RoomState } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import { Icon, type IconName } from '../ui/icon.tsx'
import { useVerdictWord, VerdictShape } from '../ui/verdict-mark.tsx'
import { useSay, useShownCertification } from './session.tsx'
import { useOverview, useSitePlan } from './site-plan.ts'
import { CertificationChoice } from './strip.tsx'
import styles from './where.module.css'

/** Screens, then the site as a tree with the verdicts of the certification shown. */
export function Where() {
  const t = useSay()
  const certification = useShownCertification()
  const { facilities } = useSitePlan()
  const overview = useOverview(certification?.id ?? null)
  const states = useMemo(() => new Map<Uuid, RoomState>(overview.data?.state?.rooms.map((room) => [room.roomId, room])), [overview.data])
  return (
    <div className={styles.where}>
      <div className={styles.certification}>
        <CertificationChoice />
      </div>
      <ul className={styles.screens} aria-label={t('app.nav.places', {})}>
        <Place href="/site" icon="facility" label={t('app.nav.site', {})} />
        {certification ? (
          <Place href={`/certification/${certification.id}`} icon="certification" label={t('app.nav.certification', {})} />
        ) : null}
        {certification ? <Place href={`/balance/${certification.id}`} icon="half" label={t('app.nav.balance', {})} /> : null}
        <Place href="/compare" icon="compare" label={t('app.nav.compare', {})} />
        <Place href="/plan" icon="plan" label={t('app.nav.plan', {})} />
      </ul>
      <section className={styles.tree} aria-label={t('app.nav.rooms', {})}>
        {facilities.map(({ facility, rooms }) => (
          <div key={facility.id} className={styles.facility}>
            <h2 className={styles.facilityName}>{facility.body.name}</h2>
            {rooms.length === 0 ? <p className={styles.none}>{t('app.nav.no_rooms', {})}</p> : null}
            <ul>
              {rooms.map((room) => (
                <RoomLine
                  key={room.id}
                  id={room.id}
                  number={room.body.number}
                  name={room.body.name}
                  inUse={room.body.inUse}
                  state={states.get(room.id) ?? null}
                />
              ))}
            </ul>
          </div>
        ))}
      </section>
      <ul className={styles.screens}>
        <Place href="/instruments" icon="gauge" label={t('app.nav.instruments', {})} />
        <Place href="/criteria" icon="criteria" label={t('app.nav.criteria', {})} />
        <Place href="/audit" icon="trail" label={t('app.nav.audit', {})} />
        <Place href="/project" icon="settings" label={t('app.nav.project', {})} />
      </ul>
    </div>
  )
}

function Place({ href, icon, label }: { href: string; icon: IconName; label: string }) {
  const [address] = useLocation()
  const here = address === href || address.startsWith(`${href}/`)
  return (
    <li>
      <Link href={href} className={styles.place} aria-current={here ? 'page' : undefined}>
        <Icon name={icon} />
        {label}
      </Link>
    </li>
  )
}

type RoomLineProps = { id: Uuid; number: string; name: string; inUse: boolean; state: RoomState | null }

function RoomLine({ id, number, name, inUse, state }: RoomLineProps) {
  const t = useSay()
  const word = useVerdictWord()
  const [here] = useRoute(`/room/${id}/*?`)
  const verdict = state?.verdict ?? 'not_tested'
  const spoken = [
    inUse ? word(verdict) : t('app.nav.out_of_use', {}),
    state?.failedAsFound ? t('app.nav.failed_as_found', {}) : null,
  ].filter(Boolean)
  return (
    <li>
      <Link href={`/room/${id}`} className={styles.room} data-unused={inUse ? undefined : ''} aria-current={here ? 'page' : undefined}>
        <VerdictShape verdict={inUse ? verdict : 'not_applicable'} size={15} />
        <span className={styles.number}>{number}</span>
        <span className={styles.name}>{name}</span>
        {state?.failedAsFound ? <span className={styles.asFound} aria-hidden="true" title={t('app.nav.failed_as_found', {})} /> : null}
        <span className="visually-hidden">{spoken.join(', ')}</span>
      </Link>
    </li>
  )
}
