import { randomUUID } from 'node:crypto'
import { type AnyProcedure, implement, ORPCError, Procedure } from '@orpc/server'
import { RPCHandler } from '@orpc/server/fetch'
import type { Desk, DoApart, WorkDoor } from './answering.ts'
import { backupsAnswers } from './backups/backups-answers.ts'
import type { Clock } from './clock.ts'
import { contract } from './contract.ts'
import { householdsAnswers } from './customers/households-answers.ts'
import { isOpenElsewhere, putBackWhenAsked } from './database/backup-files.ts'
import type { OpenDatabase } from './database/handles.ts'
import { migrateBooks } from './database/migrate.ts'
import { isPostgresAddress, openDatabase } from './database/open-books.ts'
import { deskAnswers } from './desk/desk-answers.ts'
import { deskOf } from './desk-of-office.ts'
import { dueAnswers } from './due/due-answers.ts'
import { importsAnswers } from './imports/imports-answers.ts'
import { installationsAnswers } from './installations/installations-answers.ts'
import { invoicesAnswers } from './invoices/invoices-answers.ts'
import { lettersAnswers } from './letters/letters-answers.ts'
import { recallLettersAnswers } from './letters/recall-letters-answers.ts'
import { ordersAnswers } from './orders/orders-answers.ts'
import { worthAnswers } from './orders/worth-answers.ts'
import { ok, type Result } from './result.ts'
import { routesAnswers } from './routes/routes-answers.ts'
import { officeAnswers } from './settings/office-answers.ts'
import { settingsAnswers } from './settings/settings-answers.ts'
import { countAnswers } from './stock/count-answers.ts'
import { labelsAnswers } from './stock/labels-answers.ts'
import { pullAnswers } from './stock/pull-answers.ts'
import { putAwayAnswers } from './stock/put-away-answers.ts'
import { recallAnswers } from './stock/recall-answers.ts'
import { stockAnswers } from './stock/stock-answers.ts'
import { walkAnswers } from './stock/walk-answers.ts'
import type { CalendarDate } from './units/calendar-date.ts'
import { visitsAnswers } from './visits/visits-answers.ts'
import { findPaper } from './work/find-paper.ts'
import { KeptAnswers } from './work/kept-questions.ts'
import { launchInOwnThread, type MadePaper, PaperThread } from './work/own-thread.ts'
import { launchInSameThread } from './work/same-thread.ts'
import { secondHandFor } from './work/second-hand.ts'
import { workAnswers } from './work/work-answers.ts'
import { type LaunchWork, WorkRunner } from './work/work-runner.ts'
import { WORKS } from './works.ts'

/** Under this name a window tells who sits at it, in the letters that an address may have. */
const WHO_HEADER = 'penstock-who'
const LONGEST_NAME = 40

/** For whoever opens an office: whether books are a server's, and whether another program has the file open. */
export { isOpenElsewhere, isPostgresAddress }

export interface OfficeOptions {
  /** A file path, ':memory:', or a postgres:// address; or books that are already open (tests). */
  readonly database: string | OpenDatabase
  readonly clock: Clock
  readonly log: (line: string) => void
  /** Long work and papers in threads of their own, or in this one (tests, command line). ':memory:' is always the same thread. */
  readonly threads: 'worker' | 'same'
  /** Holds every answer against its contract before it leaves, and breaks on one that is wrong: for tests. The product does without. */
  readonly checkAnswers?: boolean
  /** Who sits at the desk, for the log of who did what. */
  readonly by?: string
}

/** The office: everything reaches it as a web request. `/rpc/...` for questions and changes, `/papers/...` for papers. */
export interface Office {
  handle(request: Request): Promise<Response>
  /** A desk for the command line and for tests: the same as a request gets. */
  desk(): Desk
  close(): Promise<void>
}

/** Opens the books, brings them up to date and opens the door. DATABASE_NEWER when a newer program wrote them. */
export async function openOffice(options: OfficeOptions): Promise<Result<Office>> {
  const address = typeof options.database === 'string' ? options.database : null
  const file = address !== null && address !== ':memory:' && !isPostgresAddress(address) ? address : null
  const putBack = file === null ? null : await putBackWhenAsked(file, options.clock.now())
  if (putBack !== null) options.log(putBack)
  const database = typeof options.database === 'string' ? openDatabase(options.database) : options.database
  const migrated = await migrateBooks(
    database,
    file === null ? null : { file, now: options.clock.now(), log: options.log },
  )
  if (!migrated.ok) {
    await database.close()
    return migrated
  }
  if (migrated.value.backup)
    options.log(`The books were backed up as ${migrated.value.backup.name} before they were brought up to date.`)
  const office = assemble(options, database, address)
  await office.beginDay()
  return ok(office)
}

/** Who sits at the window that asks, as they gave their name there; null when nobody did. */
function whoSits(request: Request): string | null {
  try {
    const name = decodeURIComponent(request.headers.get(WHO_HEADER) ?? '').trim()
    return name === '' ? null : name.slice(0, LONGEST_NAME)
  } catch {
    return null
  }
}

interface BegunOffice extends Office {
  /** Tells the follow-ups of a new day, once a day; whoever asks meanwhile waits for it. */
  beginDay(): Promise<void>
}

function assemble(options: OfficeOptions, database: OpenDatabase, address: string | null): BegunOffice {
  const { clock, log } = options
  const by = options.by ?? 'the office'
  const threaded = options.threads === 'worker' && address !== null && address !== ':memory:'
  const apart = threaded ? launchInOwnThread(address, clock, by, (name) => WORKS[name]?.keepsLittle ?? false) : null
  const runner = new WorkRunner(apart ?? launchInSameThread(database, clock, by), log)
  const kept = new KeptAnswers(apart)
  const secondHand = threaded && database.dialect === 'sqlite' ? secondHandFor(address) : null
  const papers = threaded ? new PaperThread(address, clock, by) : null
  const works: WorkDoor = { start: async (name, input) => runner.start(name, input) }
  const desk = (who = by) => deskOf(database, clock, who, works, { kept, apart: doApart(apart, who), secondHand })
  const beginDay = dayBeginner(desk, log)
  const handler = new RPCHandler(routerOf(runner), {
    interceptors: [
      async (call) => {
        try {
          return await call.next()
        } catch (error) {
          throw broken(error, log)
        }
      },
    ],
    clientInterceptors: options.checkAnswers
      ? []
      : [(call) => call.next({ ...call, procedure: withoutAnswerCheck(call.procedure) })],
  })

  return {
    handle: async (request) => {
      const { pathname, searchParams } = new URL(request.url)
      await beginDay()
      if (pathname.startsWith('/papers/')) return answerPaper(papers, desk, pathname, searchParams, log)
      const { matched, response } = await handler.handle(request, {
        prefix: '/rpc',
        context: desk(whoSits(request) ?? by),
      })
      return matched ? response : new Response('Nothing lives at this address.\n', { status: 404 })
    },
    desk,
    beginDay,
    close: async () => {
      await runner.close()
      await kept.close()
      await papers?.close()
      await database.close()
    },
  }
}

/** Long work whose end the request waits for; nobody stops it or looks how far it is. */
function doApart(launch: LaunchWork | null, who: string): DoApart | null {
  return launch === null ? null : (work, input) => launch(work, input, () => {}, who).finished
}

/**
 * What changes with the date alone must not wait until somebody touches it. When that fails, because another work is writing or because
 * something broke, nobody is kept from the books: it is logged, and tried again with the next request.
 */
function dayBeginner(desk: () => Desk, log: (line: string) => void): () => Promise<void> {
  let begun: { readonly on: CalendarDate; readonly done: Promise<void> } | null = null
  return () => {
    const asking = desk()
    if (begun?.on !== asking.today) {
      const done = asking
        .write((books) => books.happened({ kind: 'day-begun' }))
        .then((told) => (told.ok ? null : told.problem.sentence), inFull)
        .then((failed) => {
          if (failed === null) return
          begun = null
          log(`The day is not begun yet: ${failed}`)
        })
      begun = { on: asking.today, done }
    }
    return begun.done
  }
}

/** The answers of every folder, held against the whole contract by the type checker. */
function routerOf(runner: WorkRunner) {
  return implement(contract)
    .$context<Desk>()
    .router({
      due: dueAnswers,
      households: householdsAnswers,
      installations: installationsAnswers,
      backups: backupsAnswers,
      desk: deskAnswers,
      imports: importsAnswers,
      invoices: invoicesAnswers,
      letters: lettersAnswers,
      office: officeAnswers,
      settings: settingsAnswers,
      routes: routesAnswers,
      visits: visitsAnswers,
      orders: ordersAnswers,
      counts: countAnswers,
      labels: labelsAnswers,
      pull: pullAnswers,
      recall: recallAnswers,
      recallLetters: recallLettersAnswers,
      putAway: putAwayAnswers,
      walk: walkAnswers,
      stock: stockAnswers,
      worth: worthAnswers,
      work: workAnswers(runner),
    })
}

/** The same procedure, whose answer goes out as it is: its types have said already that it keeps to the contract. */
function withoutAnswerCheck(procedure: AnyProcedure): AnyProcedure {
  return new Procedure({ ...procedure['~orpc'], outputSchema: undefined })
}

/** A refusal passes; anything else is a bug: it goes to the log under an id, and the user gets the id and a sentence. */
function broken(error: unknown, log: (line: string) => void): unknown {
  if (isExpected(error)) return error
  const id = randomUUID().slice(0, 8)
  log(`${id}: ${inFull(error)}`)
  return new ORPCError('INTERNAL_SERVER_ERROR', {
    message: `Something broke here, and nothing was changed. Try again; if it stays, its number in the log is ${id}.`,
    data: { id },
  })
}

/** The stack, and the causes with what a schema found wrong. */
function inFull(error: unknown): string {
  if (!(error instanceof Error)) return String(error)
  const issues = 'issues' in error ? ` ${JSON.stringify(error.issues)}` : ''
  return `${error.stack ?? error.message}${issues}${error.cause ? `\ncaused by ${inFull(error.cause)}` : ''}`
}

function isExpected(error: unknown): boolean {
  return error instanceof Error && 'status' in error && typeof error.status === 'number' && error.status < 500
}

async function answerPaper(
  papers: PaperThread | null,
  desk: () => Desk,
  path: string,
  query: URLSearchParams,
  log: (line: string) => void,
): Promise<Response> {
  try {
    const made = papers ? await papers.make(path, query) : await makeHere(desk(), path, query)
    if (!made.ok) return Response.json(made.problem, { status: made.problem.code === 'PAPER_UNKNOWN' ? 404 : 422 })
    const { fileName, contentType } = made.value.head
    const disposition = query.get('save') === '1' ? 'attachment' : 'inline'
    return new Response(made.value.body, {
      headers: {
        'content-type': contentType,
        'content-disposition': `${disposition}; filename*=UTF-8''${encodeURIComponent(fileName)}`,
        'cache-control': 'no-store',
      },
    })
  } catch (error) {
    const id = randomUUID().slice(0, 8)
    log(`${id}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
    return new Response(`The paper could not be made. Nothing was changed. Its number in the log is ${id}.\n`, {
      status: 500,
    })
  }
}

async function makeHere(desk: Desk, path: string, query: URLSearchParams): Promise<Result<MadePaper>> {
  const paper = await findPaper(desk, path, query)
  if (!paper.ok) return paper
  const { fileName, contentType, write } = paper.value
  const pipe = new TransformStream<Uint8Array, Uint8Array>()
  const writer = pipe.writable.getWriter()
  write({ write: (bytes) => writer.write(new Uint8Array(bytes)) }).then(
    () => writer.close(),
    (error: unknown) => writer.abort(error),
  )
  return ok({ head: { fileName, contentType }, body: pipe.readable })
}
