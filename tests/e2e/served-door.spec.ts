import { expect, test } from './office-fixture.ts'

test('the address opens once, and the page stands at a clean address behind a cookie no script can read', async ({
  page,
  opened,
  context,
  accessible,
  look,
}) => {
  await expect(page.locator('#penstock')).not.toBeEmpty()
  expect(page.url()).not.toContain('key=')
  const [cookie, ...others] = await context.cookies()
  expect(others).toEqual([])
  expect(cookie).toMatchObject({ httpOnly: true, sameSite: 'Strict', domain: '127.0.0.1' })
  expect(await page.evaluate(() => document.cookie)).toBe('')
  expect(opened.log).toEqual([])
  await look('first-page')
  await accessible()
})

test.describe('a page that tries to break out', () => {
  test.use({ provokes: [/Content Security Policy/] })

  test('the page may load nothing from elsewhere and run nothing of its own making', async ({ page }) => {
    const policy = await page.evaluate(async () => (await fetch('/')).headers.get('content-security-policy'))
    expect(policy).toContain("default-src 'none'")
    expect(policy).not.toContain('unsafe')
    const tried = await page.evaluate(() => {
      const refused: string[] = []
      document.addEventListener('securitypolicyviolation', (event) => refused.push(event.effectiveDirective))
      const script = document.createElement('script')
      script.textContent = 'document.title = "broken in"'
      document.body.append(script)
      const frame = document.createElement('iframe')
      frame.src = 'data:text/html,hello'
      document.body.append(frame)
      return new Promise<{ title: string; refused: string[] }>((resolve) =>
        document.addEventListener('securitypolicyviolation', () => {
          if (refused.length >= 2) resolve({ title: document.title, refused })
        }),
      )
    })
    expect(tried.refused.toSorted()).toEqual(['frame-src', 'script-src-elem'])
    expect(tried.title).not.toBe('broken in')
  })
})

test('a second browser without a key is told how to get in', async ({ browser, opened }) => {
  const stranger = await browser.newPage()
  const answer = await stranger.goto(opened.origin)
  expect(answer?.status()).toBe(401)
  await expect(stranger.getByRole('heading')).toHaveText('Penstock is open, but not in this window')
  await stranger.close()
})
