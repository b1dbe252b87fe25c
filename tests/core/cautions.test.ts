import { describe, expect, it } from 'vitest'
import { cautions } from '#core/messages/en/cautions.ts'
import { methodOf } from '#core/methods/catalogue.ts'
import { aRoom, aTerminal } from './face-run.ts'

const { cautions: cautionsOf } = methodOf('face_velocity_grid')

describe('cautions before the first reading', () => {
  it('follow the hazards of the room and what hangs there', () => {
    expect(cautionsOf(aRoom(), [aTerminal({ mounting: 'wall' })])).toEqual(['caution.pressure', 'caution.site_first'])
    const all = cautionsOf(aRoom({ hazards: ['sterile', 'hazardous_drug', 'biological', 'aerosol'] }), [
      aTerminal({ kind: 'fan_filter_unit' }),
    ])
    expect(all).toEqual([
      'caution.height',
      'caution.fans',
      'caution.sterile',
      'caution.hazardous_drug',
      'caution.biological',
      'caution.aerosol',
      'caution.pressure',
      'caution.site_first',
    ])
    const ofRoom = methodOf('room_airflow').cautions(aRoom(), [
      aTerminal({ face: 'swirl' }),
      aTerminal({ kind: 'duct_section', mounting: 'duct' }),
    ])
    expect(ofRoom).toEqual(['caution.ducts', 'caution.hood', 'caution.height', 'caution.pressure', 'caution.site_first'])
    expect(Object.keys(cautions).sort()).toEqual([...new Set([...all, ...ofRoom])].sort())
  })

  it('each end by putting the site first', () => {
    for (const sentence of Object.values(cautions))
      expect(sentence()).toMatch(/Follow the site's procedures and local codes; they come first\.$/)
  })
})
