import { existsSync } from 'node:fs'
import { type Browser, chromium } from '@playwright/test'
import react from '@vitejs/plugin-react'
import { createServer, type ViteDevServer } from 'vite'

/** The gallery in a browser: its own page, served for the tests only. */
export interface OpenGallery {
  readonly browser: Browser
  readonly address: string
  readonly close: () => Promise<void>
}

/** A Chromium of the machine, or the one that Playwright installed. */
const SYSTEM_CHROMIUM = ['/usr/bin/chromium', '/usr/bin/google-chrome'].find((path) => existsSync(path))

export async function openGallery(): Promise<OpenGallery> {
  const server: ViteDevServer = await createServer({
    configFile: false,
    root: new URL('.', import.meta.url).pathname,
    plugins: [react()],
    logLevel: 'silent',
    cacheDir: new URL('../../../node_modules/.vite-gallery', import.meta.url).pathname,
    server: {
      port: 0,
      host: '127.0.0.1',
      hmr: false,
      watch: null,
      fs: { allow: [new URL('../../..', import.meta.url).pathname] },
    },
  })
  await server.listen()
  const address = server.resolvedUrls?.local[0] ?? ''
  const browser = await chromium.launch(SYSTEM_CHROMIUM === undefined ? {} : { executablePath: SYSTEM_CHROMIUM })
  return {
    browser,
    address,
    close: async () => {
      await browser.close()
      await server.close()
    },
  }
}
