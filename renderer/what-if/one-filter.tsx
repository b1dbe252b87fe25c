import { useState } from 'react'
import type { Remedy } from '#core/rooms/what-if.ts'
import { type RoomQuestion, roomQuestions } from '#core/rooms/what-if-of-run.ts'
import { useFormatter, useSay } from '../app/session.tsx'
import forms from '../forms/forms.module.css'
import { type Column, DataTable } from '../ui/data-table.tsx'
import { Select } from '../ui/select.tsx'
import type { WhatIfProps } from './what-if-dialog.tsx'

/** Which filter, raised or lowered alone by how much, brings the room to its limit. */
export function OneFilter({ result, terminals }: WhatIfProps) {
  const t = useSay()
  const questions = roomQuestions(result, terminals)
  const worst = questions.find(({ answer }) => answer !== null && answer.changeM3ps !== 0) ?? questions[0]
  const [key, setKey] = useState<string | null>(null)
  const question = questions.find(({ criterion }) => criterion.key === key) ?? worst
  if (!question) return <p>{t('whatif.no_limit', {})}</p>
  return (
    <div className={forms.stack}>
      {questions.length > 1 ? (
        <Select
          label={t('whatif.limit', {})}
          value={question.criterion.key}
          choices={questions.map(({ criterion }) => ({ value: criterion.key, label: criterion.title }))}
          onChange={setKey}
        />
      ) : null}
      <Answer question={question} tags={new Map(result.filters.map(({ terminalId, tag }) => [terminalId, tag]))} />
    </div>
  )
}

function Answer({ question, tags }: { question: RoomQuestion; tags: ReadonlyMap<string, string> }) {
  const t = useSay()
  const columns = useColumns(tags)
  const { criterion, answer, missing, limit, undecidable } = question
  const { title, dimension, guardBand } = criterion
  if (undecidable) return <p>{t('whatif.undecidable', { title })}</p>
  if (missing.length > 0) return <p>{t('whatif.missing', { missing })}</p>
  if (!answer) return <p>{t('whatif.no_limit', {})}</p>
  return (
    <>
      <p>
        {t('whatif.lack', {
          title,
          limit,
          dimension,
          supply: answer.supplyM3ps,
          target: answer.targetM3ps,
          change: answer.changeM3ps,
          of: question,
        })}{' '}
        {guardBand ? t('whatif.guarded', { band: guardBand, dimension }) : null}
      </p>
      {answer.remedies.length > 0 ? (
        <DataTable caption={title} columns={columns} rows={answer.remedies} rowKey={({ terminalId }) => terminalId} />
      ) : null}
    </>
  )
}

function useColumns(tags: ReadonlyMap<string, string>): Column<Remedy>[] {
  const t = useSay()
  const f = useFormatter()
  const tagOf = ({ terminalId }: Remedy) => tags.get(terminalId) ?? ''
  return [
    { key: 'filter', heading: t('whatif.filter', {}), sortBy: tagOf, cell: tagOf },
    {
      key: 'now',
      heading: t('whatif.now', {}),
      unit: f.unit('flow'),
      number: true,
      sortBy: ({ fromM3ps }) => fromM3ps,
      cell: ({ fromM3ps }) => f.number(fromM3ps, 'flow'),
    },
    { key: 'then', heading: t('whatif.then', {}), unit: f.unit('flow'), number: true, cell: ({ toM3ps }) => f.number(toM3ps, 'flow') },
    {
      key: 'change',
      heading: t('whatif.change', {}),
      unit: f.unit('percent'),
      number: true,
      sortBy: ({ changePercent }) => changePercent,
      cell: ({ changePercent }) => (changePercent === null ? f.number(null, 'percent') : t('whatif.raised_by', { percent: changePercent })),
    },
    {
      key: 'velocity',
      heading: t('whatif.velocity', {}),
      unit: f.unit('velocity'),
      number: true,
      cell: ({ toVelocityMps }) => f.number(toVelocityMps, 'velocity'),
    },
    {
      key: 'design',
      heading: t('whatif.of_design', {}),
      unit: f.unit('percent'),
      number: true,
      cell: ({ toPercentOfDesign }) => f.number(toPercentOfDesign, 'percent'),
    },
    {
      key: 'answer',
      heading: t('whatif.answer', {}),
      cell: ({ hindrance }) =>
        hindrance === null ? <strong>{t('whatif.possible', {})}</strong> : t('whatif.hindrance', { of: { hindrance } }),
    },
  ]
}
