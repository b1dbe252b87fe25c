import { implement } from '@orpc/server'
import { contract } from '#core/api/contract.ts'
import { startingCriteriaSets } from '#core/criteria/starting-sets.ts'
import type { Engine } from '../engine.ts'
import { addAttachment, getAttachment, listAttachments } from './attachments.ts'
import { balanceOfSite, balanceOfSystems } from './balance.ts'
import { budgetOfRun } from './budgets.ts'
import { remaining, startCertification } from './certifications.ts'
import type { ChangeStream } from './changes.ts'
import { compareVisits, history } from './comparison.ts'
import { previewCriteria } from './criteria-preview.ts'
import { changeEntities, listEntities, revisionsOf } from './entities.ts'
import { toContractError } from './failures.ts'
import type { Workspace } from './files.ts'
import { browse, makeFolder, sourcePath } from './folders.ts'
import { lookAtFile } from './imports/look.ts'
import { Jobs } from './jobs.ts'
import { acceptMisfit } from './misfits.ts'
import { noticesOf } from './notices.ts'
import { underOtherCriteria } from './other-criteria.ts'
import { recordReadings, voidReadings } from './readings.ts'
import { previewRecalculation } from './recalculation.ts'
import { refreshRun } from './refresh-run.ts'
import { resultOf } from './run-results.ts'
import { completeRun, reopenRun, signRun } from './run-states.ts'
import { editRun, listRuns, readCautions, runDetail, setGrid, startRun } from './runs.ts'
import { find } from './search.ts'
import { listTrail } from './trail.ts'
import { topOfStack } from './undo-stack.ts'
import { latestVisit, visitRoom, visitState } from './visits.ts'

/** Binds every procedure of the contract to its service. */
export function createRouter(
  workspace: Workspace,
  changes: ChangeStream,
  log: (error: unknown) => void,
): { router: Engine['router']; stop: () => Promise<void> } {
  const named = async <T>({ next }: { next: () => T }, input: unknown): Promise<Awaited<T>> => {
    try {
      if (jobs.isWriting && isCommand(input)) await jobs.mayWrite
      return await next()
    } catch (error) {
      throw toContractError(error, log)
    }
  }
  const os = implement(contract).use(named)
  // A recorded reading is made, field by field, of an input that was validated a moment ago: once is enough where every stroke waits.
  const unproved = implement(contract, { initialOutputValidationIndex: Number.NaN }).use(named)
  const { settings, options } = workspace
  const jobs = new Jobs(workspace, (event) => changes.publish(event), log)
  workspace.beforeLeaving(() => jobs.stop())
  const router = os.router({
    files: {
      state: os.files.state.handler(() => workspace.state()),
      browse: os.files.browse.handler(({ input }) => browse(options.access, input.path)),
      makeFolder: os.files.makeFolder.handler(({ input }) => ({ path: makeFolder(options.access, input.parent, input.name) })),
      create: os.files.create.handler(({ input }) => workspace.create(input.path, input.project, input.person)),
      open: os.files.open.handler(({ input }) => workspace.open(input.path, input.readOnly)),
      openDemo: os.files.openDemo.handler(() => workspace.openDemo()),
      saveCopy: os.files.saveCopy.handler(({ input }) => workspace.saveCopy(input.path)),
      close: os.files.close.handler(async () => {
        await workspace.close()
        return null
      }),
      forgetRecent: os.files.forgetRecent.handler(async ({ input }) => {
        await settings.forget(input.path)
        return null
      }),
      exportExchange: os.files.exportExchange.handler(({ input }) => workspace.exportExchange(input.path)),
      importExchange: os.files.importExchange.handler(({ input }) => workspace.importExchange(input.exchangePath, input.path)),
      settings: os.files.settings.handler(async ({ input }) => {
        await workspace.remember(input)
        return null
      }),
    },
    entities: {
      list: os.entities.list.handler(({ input }) => listEntities(workspace.session, input)),
      revisions: os.entities.revisions.handler(({ input }) => revisionsOf(workspace.session, input.id)),
      change: os.entities.change.handler(({ input }) => changeEntities(workspace.session, input)),
    },
    commands: {
      undo: os.commands.undo.handler(async ({ input }) => {
        const { name, commandId } = await jobs.turn('undo', input)
        return { undone: name, commandId }
      }),
      redo: os.commands.redo.handler(async ({ input }) => {
        const { name, commandId } = await jobs.turn('redo', input)
        return { redone: name, commandId }
      }),
      state: os.commands.state.handler(({ input }) => {
        const top = topOfStack(workspace.session, input.scope, input.personId)
        return { undo: top.undo?.command ?? null, redo: top.redo?.command ?? null }
      }),
    },
    certifications: {
      startFrom: os.certifications.startFrom.handler(({ input }) => startCertification(workspace.session, input)),
      remaining: os.certifications.remaining.handler(({ input }) => remaining(workspace.session, input.certificationId)),
    },
    runs: {
      list: os.runs.list.handler(({ input }) => listRuns(workspace.session, input.certificationId)),
      get: os.runs.get.handler(({ input }) => runDetail(workspace.session, input.runId)),
      start: os.runs.start.handler(({ input }) => startRun(workspace.session, input)),
      setGrid: os.runs.setGrid.handler(({ input }) => setGrid(workspace.session, input)),
      readCautions: os.runs.readCautions.handler(({ input }) => readCautions(workspace.session, input)),
      edit: os.runs.edit.handler(({ input }) => editRun(workspace.session, input)),
      acceptMisfit: os.runs.acceptMisfit.handler(({ input }) => acceptMisfit(workspace.session, input)),
      refresh: os.runs.refresh.handler(({ input }) => refreshRun(workspace.session, input)),
      complete: os.runs.complete.handler(({ input }) => completeRun(workspace.session, input)),
      reopen: os.runs.reopen.handler(({ input }) => reopenRun(workspace.session, input)),
      sign: os.runs.sign.handler(({ input }) => signRun(workspace.session, input)),
    },
    readings: {
      record: unproved.readings.record.handler(({ input }) => recordReadings(workspace.session, input)),
      void: os.readings.void.handler(({ input }) => voidReadings(workspace.session, input)),
    },
    imports: {
      look: os.imports.look.handler(({ input }) =>
        lookAtFile(workspace.session, sourcePath(options.access, input.path, 'path'), input.delimiter),
      ),
      start: os.imports.start.handler(({ input }) => jobs.startImport(input)),
    },
    evaluation: {
      overview: os.evaluation.overview.handler(({ input }) => {
        const { session } = workspace
        const visit = input.certificationId === null ? latestVisit(session) : session.find('certification', input.certificationId)
        const state = visit === null ? null : visitState(session, visit)
        return { certificationId: visit?.entity.id ?? null, state, notices: noticesOf(session, visit, state) }
      }),
      certification: os.evaluation.certification.handler(({ input }) =>
        visitState(workspace.session, workspace.session.find('certification', input.certificationId)),
      ),
      room: os.evaluation.room.handler(({ input }) => visitRoom(workspace.session, input.certificationId, input.roomId)),
      budget: os.evaluation.budget.handler(({ input }) => budgetOfRun(workspace.session, input)),
      run: os.evaluation.run.handler(({ input }) => resultOf(workspace.session, workspace.session.find('run', input.runId))),
    },
    compare: {
      certifications: os.compare.certifications.handler(({ input }) => compareVisits(workspace.session, input)),
      history: os.compare.history.handler(({ input }) => history(workspace.session, input.subjectId, input.quantity)),
      underOtherCriteria: os.compare.underOtherCriteria.handler(({ input }) => underOtherCriteria(workspace.session, input)),
    },
    recalculation: {
      preview: os.recalculation.preview.handler(({ input }) => previewRecalculation(workspace.session, input.instrumentId)),
    },
    balance: {
      site: os.balance.site.handler(({ input }) => balanceOfSite(workspace.session, input)),
      systems: os.balance.systems.handler(({ input }) => balanceOfSystems(workspace.session, input)),
    },
    criteria: {
      starting: os.criteria.starting.handler(() => startingCriteriaSets()),
      preview: os.criteria.preview.handler(({ input }) => previewCriteria(workspace.session, input)),
    },
    audit: { list: os.audit.list.handler(({ input }) => listTrail(workspace.session, input)) },
    search: { find: os.search.find.handler(({ input }) => find(workspace.session, input.text, input.limit)) },
    attachments: {
      list: os.attachments.list.handler(({ input }) => listAttachments(workspace.session, input.ownerId)),
      add: os.attachments.add.handler(({ input }) => addAttachment(workspace.session, input)),
      get: os.attachments.get.handler(({ input }) => getAttachment(workspace.session, input.id)),
    },
    jobs: {
      startCheck: os.jobs.startCheck.handler(() => jobs.startCheck()),
      startExport: os.jobs.startExport.handler(({ input }) => jobs.startExport(input.path)),
      get: os.jobs.get.handler(({ input }) => jobs.get(input.id)),
      cancel: os.jobs.cancel.handler(({ input }) => jobs.cancel(input.id)),
    },
    changes: { subscribe: os.changes.subscribe.handler(({ signal }) => changes.subscribe(signal)) },
  })
  return { router, stop: () => jobs.stop() }
}

/** Whatever changes the project names its command. */
function isCommand(input: unknown): boolean {
  return typeof input === 'object' && input !== null && 'command' in input
}
