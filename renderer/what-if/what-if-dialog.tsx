import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { RunResult } from '#core/model/results.ts'
import type { Uuid } from '#core/model/values.ts'
import type { TerminalOfRun } from '#core/rooms/what-if-of-run.ts'
import { orpc } from '../app/client.ts'
import { useFailureText, useSay } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import { Busy } from '../ui/busy.tsx'
import { Dialog } from '../ui/dialog.tsx'
import { Icon } from '../ui/icon.tsx'
import { Segmented } from '../ui/segmented.tsx'
import { OneFilter } from './one-filter.tsx'
import { SpeedOfGroup } from './speed-of-group.tsx'
import styles from './what-if.module.css'

export type WhatIfProps = { result: RunResult; terminals: readonly TerminalOfRun[] }

/** What would bring a room to its limit: thought through on a run's result, without touching any data. */
export function WhatIfDialog({ runId, room, onClose }: { runId: Uuid; room: string; onClose: () => void }) {
  const t = useSay()
  const failureText = useFailureText()
  const [kind, setKind] = useState<'one' | 'speed'>('one')
  const result = useQuery(orpc.evaluation.run.queryOptions({ input: { runId } }))
  const detail = useQuery(orpc.runs.get.queryOptions({ input: { runId } }))
  const terminals = useMemo(
    () => (detail.data?.pins ?? []).flatMap((pin) => (pin.kind === 'terminal' ? [{ id: pin.id, body: pin.body }] : [])),
    [detail.data],
  )
  const problem = result.error ?? detail.error
  return (
    <Dialog open wide onClose={onClose} title={t('whatif.title', { room })}>
      <div className={forms.stack}>
        <Segmented
          label={t('whatif.kind', {})}
          value={kind}
          choices={[
            { value: 'one', label: t('whatif.kind.one', {}) },
            { value: 'speed', label: t('whatif.kind.speed', {}) },
          ]}
          onChange={setKind}
        />
        <p className={styles.caution}>
          <Icon name="info" size={16} />
          {t('whatif.neighbours', {})}
        </p>
        {problem ? <p role="alert">{failureText(problem)}</p> : null}
        {result.data && detail.data ? (
          kind === 'one' ? (
            <OneFilter result={result.data} terminals={terminals} />
          ) : (
            <SpeedOfGroup result={result.data} terminals={terminals} />
          )
        ) : problem ? null : (
          <Busy label={t('app.loading', {})} />
        )}
      </div>
    </Dialog>
  )
}
