import { homedir } from 'node:os'
import { defineConfig } from '@playwright/test'
import { findChromium } from './electron/start/chromium-places.ts'

const chromium = findChromium({ platform: process.platform, home: homedir(), environment: process.env })

/** A person at the screen. Nothing is tried again: a test that passes the second time hides a defect. */
export default defineConfig({
  testDir: 'tests/e2e',
  testMatch: '**/*.spec.ts',
  globalSetup: './tests/e2e/build-first.config.ts',
  outputDir: 'test-results',
  workers: 2,
  fullyParallel: true,
  retries: 0,
  forbidOnly: true,
  // How long a machine may take that does much else besides. Nothing waits this long where it is not needed.
  timeout: 240_000,
  expect: { timeout: 45_000 },
  reporter: 'list',
  use: {
    locale: 'en-US',
    timezoneId: 'America/Chicago',
    viewport: { width: 1440, height: 900 },
    actionTimeout: 45_000,
    launchOptions: chromium ? { executablePath: chromium } : {},
  },
})
