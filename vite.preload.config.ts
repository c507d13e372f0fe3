import { defineConfig } from 'vite'

/** The preload: one CommonJS file with nothing to load but Electron, as a sandboxed window wants it. */
export default defineConfig({
  build: {
    ssr: true,
    outDir: new URL('dist/preload', import.meta.url).pathname,
    emptyOutDir: true,
    target: 'chrome140',
    rollupOptions: {
      input: { preload: new URL('electron/preload/preload.ts', import.meta.url).pathname },
      output: { format: 'cjs', entryFileNames: '[name].cjs', codeSplitting: false },
    },
  },
  ssr: { noExternal: true, external: ['electron'] },
})
