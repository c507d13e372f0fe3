import { defineConfig } from 'vite'

/**
 * The desktop shell: the main process and, as a file of its own beside it, the working thread. The database drivers and pdfkit
 * stay outside: they read files beside their own.
 */
export default defineConfig({
  build: {
    ssr: true,
    outDir: new URL('dist/electron', import.meta.url).pathname,
    emptyOutDir: true,
    target: 'node24',
    rollupOptions: {
      input: {
        main: new URL('electron/main/main.ts', import.meta.url).pathname,
        'work-thread': new URL('core/work/work-thread.ts', import.meta.url).pathname,
      },
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
  ssr: { noExternal: true, external: ['better-sqlite3', 'electron', 'pdfkit', 'pg'] },
})
