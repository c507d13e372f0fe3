import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { NONCE_PLACE } from './electron/page/page-files.ts'

/** The window's page: renderer/ into dist/renderer. Nothing is inlined, so that the content policy can stay strict. */
export default defineConfig({
  root: fileURLToPath(new URL('renderer', import.meta.url)),
  publicDir: false,
  plugins: [react()],
  html: { cspNonce: NONCE_PLACE },
  build: {
    outDir: fileURLToPath(new URL('dist/renderer', import.meta.url)),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    target: 'chrome140',
    chunkSizeWarningLimit: 1500,
    reportCompressedSize: false,
  },
})
