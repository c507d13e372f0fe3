import { expect, test } from 'vitest'
import { answerRequest } from '../../electron/page/answer-request.ts'

const MEGABYTE = 1024 * 1024
const files = { file: () => null, page: async () => null }

/** A body of so many megabytes that does not say how long it is; `made` counts what was asked of it. */
function aBody(megabytes: number): { readonly stream: ReadableStream<Uint8Array>; readonly made: () => number } {
  let made = 0
  const stream = new ReadableStream<Uint8Array>(
    {
      pull: (controller) => {
        made += 1
        if (made > megabytes) controller.close()
        else controller.enqueue(new Uint8Array(MEGABYTE).fill(65))
      },
    },
    { highWaterMark: 0 },
  )
  return { stream, made: () => made }
}

async function send(megabytes: number): Promise<{ status: number; text: string; made: number }> {
  const { stream, made } = aBody(megabytes)
  const office = {
    handle: async (request: Request) => new Response(`read ${(await request.arrayBuffer()).byteLength}`),
  }
  const init = { method: 'POST', body: stream, duplex: 'half' }
  const request = new Request('http://office/rpc/imports/piece', init)
  const answer = await answerRequest(request, office, files)
  return { status: answer.status, text: await answer.text(), made: made() }
}

test('IMP-22 200 MB that do not say how many they are, are read no further than may be', async () => {
  const { status, text, made } = await send(200)
  expect([status, text]).toEqual([413, 'This is too large to take in at once.\n'])
  expect(made).toBeLessThan(16)
})

test('IMP-22 a body within bounds that does not say how long it is comes whole', async () => {
  expect(await send(3)).toMatchObject({ status: 200, text: `read ${3 * MEGABYTE}` })
})
