import { words } from './english.ts'
import { expectEmptyAtHand, expectSaved, typeReadings } from './face.ts'
import { goTo } from './home.ts'
import { expect, test } from './loading-room.ts'

test('numbers typed while the connection is down are saved after it is back, wherever the technician has gone', async ({ bench }) => {
  const { page } = bench
  let down = false
  const drops: (() => void)[] = []
  await page.routeWebSocket(/.*/, (socket) => {
    if (down) return void socket.close()
    socket.connectToServer()
    drops.push(() => void socket.close())
  })
  await page.reload()
  await expectEmptyAtHand(page, 1)
  await typeReadings(page, ['0.46'])
  await expectSaved(page, 1, '0.46')
  down = true
  for (const drop of drops) drop()
  await typeReadings(page, ['0.45', '0.44', '0.43'])
  await goTo(page, words('app.nav.site', {}))
  const header = page.getByRole('banner')
  await expect(header.getByText(words('app.saved.waiting', { readings: 3 }))).toBeVisible()
  down = false
  await expect(header.getByText(/^(Saved|All saved)$/)).toBeVisible({ timeout: 20_000 })
  await goTo(page, words('app.nav.certification', {}))
  // One before the line fell and three after it: four of 3 x 9 points.
  await expect(page.getByRole('main')).toContainText('4 of 27 points')
})
