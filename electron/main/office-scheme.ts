import type { Protocol, Session } from 'electron'
import { type AnsweringOffice, answerRequest, plain } from '../page/answer-request.ts'
import type { PageFiles } from '../page/page-files.ts'
import { isOurs, SCHEME } from './window-hardening.ts'

/** Must run before the program is ready. The scheme counts as secure and has an origin of its own; no other page may reach into it. */
export function registerScheme(protocol: Protocol): void {
  protocol.registerSchemesAsPrivileged([
    {
      scheme: SCHEME,
      privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true, codeCache: true },
    },
  ])
}

/** Answers every request to the scheme out of this process: no port is opened. */
export function answerScheme(
  session: Session,
  office: AnsweringOffice,
  files: PageFiles,
  log: (line: string) => void,
): void {
  session.protocol.handle(SCHEME, async (request) => {
    try {
      if (!isOurs(request.url)) return plain(404, 'Nothing lives at this address.')
      const origin = request.headers.get('origin')
      if (origin !== null && !isOurs(`${origin}/`)) return plain(403, 'Another page may not ask this office.')
      return await answerRequest(request, office, files)
    } catch (error) {
      log(`The window's request broke: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
      return plain(500, 'Something broke here, and nothing was changed. Try again; the log says more.')
    }
  })
}
