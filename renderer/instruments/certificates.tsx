import { useState } from 'react'
import type { Entity } from '#core/model/entities.ts'
import { useCanChange, useFormatter, useSay } from '../app/session.tsx'
import { Button } from '../ui/button.tsx'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { Panel } from '../ui/panel.tsx'
import { CertificateDialog } from './certificate-dialog.tsx'
import styles from './instruments.module.css'
import type { KnownInstrument } from './use-instruments.ts'

type Opened = { certificate: Entity<'calibration'> | null } | null

/** The certificates of an instrument, newest first. */
export function Certificates({ known }: { known: KnownInstrument | null }) {
  const t = useSay()
  const canChange = useCanChange()
  const [opened, setOpened] = useState<Opened>(null)
  const columns = useColumns((certificate) => setOpened({ certificate }))
  const add = (
    <Button icon="add" disabled={!canChange || !known} onClick={() => setOpened({ certificate: null })}>
      {t('instruments.certificate_add', {})}
    </Button>
  )
  return (
    <Panel title={t('instruments.certificates', {})} actions={add} flush>
      {known ? (
        <DataTable
          caption={t('instruments.certificates', {})}
          columns={columns}
          rows={known.calibrations}
          rowKey={(certificate) => certificate.id}
          onSelect={(certificate) => setOpened({ certificate })}
          empty={<p className={styles.empty}>{t('instruments.certificates_empty', {})}</p>}
        />
      ) : (
        <p className={styles.empty}>{t('instruments.certificates_first_save', {})}</p>
      )}
      {known && opened ? (
        <CertificateDialog
          key={opened.certificate?.id ?? 'new'}
          instrument={known.instrument}
          certificate={opened.certificate}
          onClose={() => setOpened(null)}
        />
      ) : null}
    </Panel>
  )
}

function useColumns(open: (certificate: Entity<'calibration'>) => void): Column<Entity<'calibration'>>[] {
  const t = useSay()
  const f = useFormatter()
  return [
    {
      key: 'number',
      heading: t('instruments.certificate', {}),
      cell: (certificate) => (
        <>
          <Button
            kind="link"
            onClick={(event) => {
              event.stopPropagation()
              open(certificate)
            }}
          >
            {certificate.body.certificateNumber}
          </Button>
          {certificate.body.release ? <p className={styles.faint}>{t('instruments.released_by', certificate.body.release)}</p> : null}
        </>
      ),
    },
    { key: 'on', heading: t('instruments.calibrated_on', {}), cell: ({ body }) => f.date(body.calibratedOn) },
    { key: 'due', heading: t('instruments.due_on', {}), cell: ({ body }) => f.date(body.dueOn) },
    { key: 'found', heading: t('instruments.found', {}), cell: ({ body }) => <Found value={body.foundInTolerance} /> },
  ]
}

function Found({ value }: { value: boolean | null }) {
  const t = useSay()
  if (value === null) return t('instruments.found.not_stated', {})
  return value ? t('instruments.found.yes', {}) : <strong>{t('instruments.found.no', {})}</strong>
}
