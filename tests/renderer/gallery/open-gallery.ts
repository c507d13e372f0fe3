import react from '@vitejs/plugin-react'
import { createServer } from 'vite'

/** The gallery's own page, served for the tests only. */
export interface OpenGallery {
  readonly address: string
  readonly close: () => Promise<void>
}

const house = new URL('../../..', import.meta.url).pathname

export async function openGallery(): Promise<OpenGallery> {
  const server = await createServer({
    configFile: false,
    root: decodeURI(new URL('.', import.meta.url).pathname),
    plugins: [react()],
    logLevel: 'silent',
    cacheDir: decodeURI(`${house}node_modules/.vite-gallery`),
    server: { port: 0, host: '127.0.0.1', hmr: false, watch: null, fs: { allow: [decodeURI(house)] } },
  })
  await server.listen()
  return { address: server.resolvedUrls?.local[0] ?? '', close: () => server.close() }
}
