import path from 'node:path'
import { message } from '#core/messages/say.ts'
import type { Exchange } from '#core/model/exchange.ts'
import { checkProject } from '../../project-file/check/check.ts'
import { problem } from '../../project-file/problem.ts'
import { commit } from '../command.ts'
import type { Session } from '../session.ts'
import { importFull } from './full-import.ts'
import { sentenceInWords } from './problems.ts'
import { importShort } from './short-import.ts'

/** Fills a new, empty project file from an exchange file: all of it, or nothing. */
export function importExchange(session: Session, read: { exchange: Exchange; sha256: string }, exchangePath: string): void {
  const { exchange } = read
  const reason = `${path.basename(exchangePath)}, SHA-256 ${read.sha256}`
  session.stores.transaction(() => {
    if (exchange.form === 'full') importFull(session.stores, exchange)
    const personId = exchange.form === 'full' ? anyPerson(session) : (exchange.entities.find(({ kind }) => kind === 'person')?.id ?? null)
    if (personId === null) throw problem('invalid_input', message('exchange.no_person', {}), { field: '$.entities' })
    if (exchange.form === 'short' && exchange.entities.filter(({ kind }) => kind === 'project').length !== 1) {
      throw problem('invalid_input', message('exchange.one_project', {}), { field: '$.entities' })
    }
    commit(
      session,
      {
        command: { id: session.options.uuid(), personId, reason },
        name: 'project.import',
        scope: 'project',
        founding: exchange.form === 'short',
        always: true,
      },
      (transaction) => {
        if (exchange.form === 'short') importShort(transaction, exchange)
      },
      () => undefined,
    )
  })
  refuseUnsound(session)
}

function anyPerson(session: Session): string | null {
  const people = session.stores.entities.list('person')
  return (people.find(({ entity }) => entity.body.active) ?? people[0])?.entity.id ?? null
}

/** A full form may say things that its trail does not: then it is refused, like a damaged file. */
function refuseUnsound(session: Session): void {
  const broken = (checkProject(session.file) ?? []).find((finding) => finding.kind === 'problem')
  if (broken) throw problem('invalid_input', message('exchange.unsound', { detail: sentenceInWords(broken.sentence) }))
}
