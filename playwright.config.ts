import { defineConfig } from '@playwright/test'
import { electronBinary } from './electron/electron-binary.ts'
import type { HostOption } from './tests/e2e/application.ts'
import { findBrowser, TEST_BROWSER_OPTIONS } from './tests/e2e/browser.ts'

const browser = { launchOptions: { executablePath: findBrowser(), args: TEST_BROWSER_OPTIONS } }

/** The specs are written once; each project runs them against one host. The desktop's runs where its binary is installed. */
export default defineConfig<HostOption>({
  testDir: 'tests/e2e',
  testMatch: '**/*.spec.ts',
  outputDir: 'test-results/e2e',
  timeout: 240_000,
  expect: { timeout: 10_000 },
  workers: 2,
  forbidOnly: true,
  use: { viewport: { width: 1280, height: 800 }, trace: 'retain-on-failure', ...browser },
  projects: [
    { name: 'browser-host', use: { host: 'browser' } },
    ...(electronBinary(import.meta.dirname)
      ? [{ name: 'desktop-host', testIgnore: '**/two-windows.spec.ts', use: { host: 'desktop' as const } }]
      : []),
  ],
})
