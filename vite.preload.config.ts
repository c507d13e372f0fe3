import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

/** The preload: one CommonJS file with nothing to load but Electron, as a sandboxed window wants it. */
export default defineConfig({
  build: {
    ssr: true,
    outDir: fileURLToPath(new URL('dist/preload', import.meta.url)),
    emptyOutDir: true,
    target: 'chrome140',
    rollupOptions: {
      input: { preload: fileURLToPath(new URL('electron/preload/preload.ts', import.meta.url)) },
      output: { format: 'cjs', entryFileNames: '[name].cjs', codeSplitting: false },
    },
  },
  ssr: { noExternal: true, external: ['electron'] },
})
