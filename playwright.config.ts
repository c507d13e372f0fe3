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
  timeout: 60_000,
  expect: { timeout: 10_000 },
  reporter: 'list',
  use: {
    locale: 'en-US',
    timezoneId: 'America/Chicago',
    viewport: { width: 1440, height: 900 },
    actionTimeout: 10_000,
    launchOptions: chromium ? { executablePath: chromium } : {},
  },
})
