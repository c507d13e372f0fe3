import { expect, test } from './office-fixture.ts'

test.describe('on a telephone', () => {
  test.use({ books: 'empty', viewport: { width: 390, height: 844 } })

  test('no tray of the line lies over another', async ({ page, accessible }) => {
    await expect(page.locator('.tray-count').first()).not.toBeEmpty()
    const boxes = await page.locator('.trays li').evaluateAll((trays) =>
      trays.map((tray) => {
        const inside = [...tray.querySelectorAll('.bold, .tray-count')].map((part) => part.getBoundingClientRect())
        return { left: Math.min(...inside.map((box) => box.left)), right: Math.max(...inside.map((box) => box.right)) }
      }),
    )
    for (const [index, box] of boxes.entries()) {
      const next = boxes[index + 1]
      if (next) expect(next.left).toBeGreaterThanOrEqual(box.right)
    }
    expect(boxes.length).toBe(7)
    await page.screenshot({
      path: process.env.PENSTOCK_SHOTS ? `${process.env.PENSTOCK_SHOTS}/narrow.png` : 'test-results/narrow.png',
    })
    await accessible()
  })
})
