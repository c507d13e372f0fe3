import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

/**
 * The desktop shell: the main process and, as files of their own beside it, the working threads. The database drivers and pdfkit
 * stay outside: they read files beside their own.
 */
export default defineConfig({
  build: {
    ssr: true,
    outDir: fileURLToPath(new URL('dist/electron', import.meta.url)),
    emptyOutDir: true,
    target: 'node24',
    rollupOptions: {
      input: {
        main: fileURLToPath(new URL('electron/main/main.ts', import.meta.url)),
        'work-thread': fileURLToPath(new URL('core/work/work-thread.ts', import.meta.url)),
        'turns-thread': fileURLToPath(new URL('core/work/turns-thread.ts', import.meta.url)),
      },
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
  ssr: { noExternal: true, external: ['better-sqlite3', 'electron', 'pdfkit', 'pg'] },
})
