import { describe, expect, test } from 'vitest'
import type { Placed } from '#renderer/rooms/plan/alignment.ts'
import { inSequence, neighbour, rowsOf } from '#renderer/rooms/plan/reading-order.ts'
import { firstPattern, nextPattern, repeatedTags, tagSequence } from '#renderer/rooms/plan/tag-sequence.ts'

const at = (id: string, x: number, y: number): Placed => ({
  id,
  x,
  y,
  corners: [
    { x: x - 0.3, y: y - 0.6 },
    { x: x + 0.3, y: y - 0.6 },
    { x: x + 0.3, y: y + 0.6 },
    { x: x - 0.3, y: y + 0.6 },
  ],
})
const ids = (items: readonly Placed[]) => items.map((item) => item.id).join(' ')

describe('tags in sequence', () => {
  test('the braces hold the first value and leading zeros its width', () => {
    expect(tagSequence('F-104-{01}', 3)).toEqual({ ok: true, tags: ['F-104-01', 'F-104-02', 'F-104-03'] })
    expect(tagSequence('{8}/N', 3, 2)).toEqual({ ok: true, tags: ['8/N', '10/N', '12/N'] })
    expect(tagSequence('S{099}', 2)).toEqual({ ok: true, tags: ['S099', 'S100'] })
  })

  test('letters count on from Z to AA', () => {
    expect(tagSequence('bank {Y}', 4)).toEqual({ ok: true, tags: ['bank Y', 'bank Z', 'bank AA', 'bank AB'] })
    expect(tagSequence('{a}', 2)).toEqual({ ok: true, tags: ['a', 'b'] })
  })

  test('a pattern without a place, or with two, is answered with what is wrong', () => {
    expect(tagSequence('F-104', 3)).toEqual({ ok: false, problem: 'map.tags.no_place' })
    expect(tagSequence('{1}-{2}', 3)).toEqual({ ok: false, problem: 'map.tags.two_places' })
    expect(tagSequence(`${'x'.repeat(119)}{9}`, 2)).toEqual({ ok: false, problem: 'map.tags.too_long' })
  })

  test('tagging anew begins as the chosen ones do, and goes on where kept ones with the same beginning end', () => {
    expect(firstPattern('P-202', ['P-202/03', 'P-202/04', 'P-202/R2'], [])).toBe('P-202/{01}')
    expect(firstPattern('P-202', ['P-202/03', 'P-202/04'], ['P-202/01', 'P-202/02', 'P-202/R1'])).toBe('P-202/{03}')
    expect(firstPattern('P-202', ['far', 'near'], ['P-202/R1'])).toBe('P-202-{01}')
  })

  test('a tag that the room already has is found whatever its case', () => {
    expect(repeatedTags(['F-1', 'F-2', 'f-2'], ['f-1'])).toEqual(['F-1', 'f-2'])
  })

  test('the next pattern goes on where the room ends', () => {
    expect(nextPattern('F-104', [])).toBe('F-104-{01}')
    expect(nextPattern('F-104', ['F-104-01', 'F-104-12', 'R-1', 'no number'])).toBe('F-104-{13}')
    expect(nextPattern('F-104', ['F-104-01', 'F-104-12', 'R-1'], 'R-1')).toBe('R-{2}')
  })
})

describe('order on the plan', () => {
  const plan = [at('nearRight', 3, 1), at('farLeft', 1, 4.1), at('farRight', 3, 4), at('nearLeft', 1, 1.05), at('farMiddle', 2, 3.9)]

  test('rows from far to near, each from left to right, though not drawn to the centimetre', () => {
    expect(rowsOf(plan).map(ids)).toEqual(['farLeft farMiddle farRight', 'nearLeft nearRight'])
  })

  test('there and back turns every second row', () => {
    expect(ids(inSequence(plan, 'rows_there_and_back'))).toBe('farLeft farMiddle farRight nearRight nearLeft')
  })

  test('columns from the left, each from far to near', () => {
    expect(ids(inSequence(plan, 'columns'))).toBe('farLeft nearLeft farMiddle farRight nearRight')
    expect(ids(inSequence(plan, 'columns_there_and_back'))).toBe('farLeft nearLeft farMiddle farRight nearRight')
  })

  test('an arrow key goes to what lies there, not to the next in a list', () => {
    const [nearRight, farLeft] = plan
    if (!nearRight || !farLeft) throw new Error('plan expected')
    expect(neighbour(farLeft, 'right', plan)?.id).toBe('farMiddle')
    expect(neighbour(farLeft, 'down', plan)?.id).toBe('nearLeft')
    expect(neighbour(nearRight, 'up', plan)?.id).toBe('farRight')
    expect(neighbour(farLeft, 'left', plan)).toBeNull()
    expect(neighbour(farLeft, 'up', plan)).toBeNull()
  })
})
