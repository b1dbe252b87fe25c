import { execFile } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { productionBuild } from '#tests/tooling/production-build.ts'

const TOP = path.resolve(import.meta.dirname, '../..')

/** The built main process, preload and engine process, over real message ports; `electron` itself is a stand-in typed by its types. */
describe('desktop host, production bundle', () => {
  const work = mkdtempSync(path.join(os.tmpdir(), 'facegrid-desktop-'))
  let seen: Record<string, unknown>

  beforeAll(async () => {
    productionBuild(TOP)
    const { stdout } = await promisify(execFile)(
      process.execPath,
      ['--import', path.join(import.meta.dirname, 'stand-in/register.ts'), path.join(import.meta.dirname, 'drive.ts'), TOP, work],
      { timeout: 90_000, maxBuffer: 1 << 24 },
    )
    seen = JSON.parse(stdout.trim().split('\n').at(-1) ?? '') as Record<string, unknown>
  }, 120_000)
  afterAll(() => rmSync(work, { recursive: true, force: true }))

  it('answers the page through the preload, a message port and the engine process', () => {
    expect(seen.host).toBe('desktop')
    expect(seen.openedName).toBe('Quillmere sterile filling site')
    expect(seen.rooms).toBeGreaterThanOrEqual(12)
  })
  it('opens only what the user picked', () => {
    expect(seen.refusedPath).toBe('refused')
    expect(seen.picked).toBe(path.join(work, 'demo.facegrid'))
    expect(seen.copiedBytes).toBeGreaterThan(10_000)
  })
  it('isolates the page', () => {
    expect(seen.webPreferences).toMatchObject({
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      webviewTag: false,
    })
  })
  it('refuses senders that are not the page of its window, and arguments that do not fit', () => {
    expect(seen.foreign).toMatch(/Refused/)
    expect(seen.lookalike).toMatch(/Refused/)
    expect(seen.badArgument).toBe('ZodError')
  })
  it('refuses navigation, new windows, webviews and permissions', () => {
    expect(seen.navigation).toEqual({ navigate: true, redirect: true, webview: true })
    expect(seen.windowOpen).toBe('deny')
    expect(seen.permission).toBe(false)
    expect(seen.permissionCheck).toBe(false)
  })
  it('serves exactly the built page under a strict policy', () => {
    expect(seen.url).toBe('facegrid://page/index.html')
    expect(seen.index).toMatchObject({ status: 200 })
    expect((seen.index as { csp: string }).csp).toContain("script-src 'self'")
    expect((seen.index as { csp: string }).csp).not.toContain('unsafe')
    expect(seen.outside).toMatchObject({ status: 404 })
    expect(seen.otherHost).toMatchObject({ status: 404 })
  })
  it('passes on files the system asks to open, and menu commands', () => {
    expect(seen.asked).toEqual(['other.facegrid'])
    expect(seen.commands).toEqual(['new', 'open', 'save_copy', 'close', 'undo', 'redo', 'find', 'help'])
  })
  it('leaves one file at rest and remembers the window', () => {
    expect(seen.atRest).not.toContain('demo.facegrid-wal')
    expect(JSON.parse(String(seen.windowState))).toEqual({ x: 40, y: 30, width: 1200, height: 800, maximized: false })
  })
})
