import { type ChildProcessByStdio, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Readable, Writable } from 'node:stream'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { holderPath, lockIsHeld, lockPath, takeLock } from '#electron/project-file/lock.ts'
import { createProjectFile, openProjectFile } from '#electron/project-file/open.ts'
import { refusal, sentenceOf } from './failure.ts'
import { addSite, OPTIONS, recordReading, temporaryFolder } from './site.ts'

const PROGRAM = fileURLToPath(new URL('./hold-open.ts', import.meta.url))
let folder: ReturnType<typeof temporaryFolder>
let path: string
let others: Other[]
type Other = { readonly process: ChildProcessByStdio<Writable, Readable, null>; readonly said: string }

beforeEach(() => {
  folder = temporaryFolder()
  path = join(folder.path, 'Hall.facegrid')
  others = []
  createProjectFile(path, OPTIONS).close()
})
afterEach(() => {
  for (const other of others) other.process.kill('SIGKILL')
  folder.remove()
})

async function other(who: string, mode: 'write' | 'read' = 'write'): Promise<Other> {
  const process_ = spawn(process.execPath, [PROGRAM, path, who, mode], { stdio: ['pipe', 'pipe', 'inherit'] })
  const [line] = await once(process_.stdout, 'data')
  const started = { process: process_, said: String(line).trim() }
  others.push(started)
  return started
}

async function letGo({ process: held }: Other): Promise<void> {
  const gone = once(held, 'exit')
  held.stdin.end()
  await gone
}

it('keeps a second writer in another process out, and says who, where and since when', async () => {
  expect((await other('Berta Muster')).said).toBe('open')
  const failure = refusal(() => openProjectFile(path, OPTIONS))
  expect(failure.kind).toBe('locked')
  // 08:15 UTC as the reader's clock shows it: Vienna is one hour ahead before the clocks change.
  expect(sentenceOf(failure.sentence)).toMatch(/by Berta Muster on bench-7, since 2 Mar 2026, 09:15\. Close it there/)
})

it('says it to people too: the text beside the file is readable', async () => {
  await other('Berta Muster')
  expect(readFileSync(holderPath(path), 'utf8')).toBe('Berta Muster\nbench-7\n2026-03-02T08:15:00.000Z\n')
})

it('is free again, without a trace, after closing', async () => {
  await letGo(await other('Berta Muster'))
  expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
  expect((await other('Carl Muster')).said).toBe('open')
})

it('is freed by the system when the holder is killed', async () => {
  const killed = await other('Berta Muster')
  const gone = once(killed.process, 'exit')
  killed.process.kill('SIGKILL')
  await gone
  expect(existsSync(lockPath(path))).toBe(true)
  expect(lockIsHeld(path)).toBe(false)
  const file = openProjectFile(path, OPTIONS)
  expect(readFileSync(holderPath(path), 'utf8')).toContain('A. Tester')
  file.close()
  expect(readdirSync(folder.path)).toEqual(['Hall.facegrid'])
})

it('lets others read while one writes, each seeing what was recorded', async () => {
  const file = openProjectFile(path, OPTIONS)
  const site = addSite(file, 4)
  expect((await other('First reader', 'read')).said).toBe('open for reading, 0 readings')
  recordReading(file, site, 1, 0.45)
  expect((await other('Second reader', 'read')).said).toBe('open for reading, 1 readings')
  expect((await other('Writer')).said).toBe('file.locked')
  file.close()
})

it('lets one read here what is written elsewhere', async () => {
  await other('Berta Muster')
  const file = openProjectFile(path, { ...OPTIONS, readOnly: true })
  expect(file.db.prepare('SELECT count(*) FROM entity').pluck().get()).toBe(0)
  expect(file.notices).toEqual([])
  file.close()
})

it('is held by exactly one of many that come at once', async () => {
  const many = await Promise.all(['one', 'two', 'three', 'four', 'five'].map((who) => other(who)))
  expect(many.map(({ said }) => said).sort()).toEqual(['file.locked', 'file.locked', 'file.locked', 'file.locked', 'open'])
})

it('is never held twice while it changes hands quickly', () => {
  const holder = { who: 'one', where: 'here', since: 'now' }
  for (let round = 0; round < 200; round += 1) {
    const first = takeLock(path, holder)
    if (!('lock' in first)) throw new Error('a free lock was not given')
    expect(lockIsHeld(path)).toBe(true)
    first.lock.release()
    expect(lockIsHeld(path)).toBe(false)
  }
})
