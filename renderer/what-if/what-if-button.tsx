import { useState } from 'react'
import type { Uuid } from '#core/model/values.ts'
import { useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { WhatIfDialog } from './what-if-dialog.tsx'

/** Opens "what if" over the run of a room. */
export function WhatIfButton({ runId, room, large }: { runId: Uuid; room: string; large?: boolean }) {
  const t = useSay()
  const [open, setOpen] = useState(false)
  return (
    <>
      <Button large={large} icon="gauge" aria-haspopup="dialog" onClick={() => setOpen(true)}>
        {t('whatif.open', {})}
      </Button>
      {open ? <WhatIfDialog runId={runId} room={room} onClose={() => setOpen(false)} /> : null}
    </>
  )
}
