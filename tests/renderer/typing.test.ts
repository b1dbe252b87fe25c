import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  type Board,
  type Commit,
  draftOf,
  eventOfKey,
  keyOf,
  LONGEST_DRAFT,
  type Place,
  placeToStart,
  startTyping,
  stepTyping,
  type TypingState,
} from '#renderer/readings/typing.ts'

/** Filters a, b, c ... of so many points each, their points numbered along the path. */
function bench(filters: number[], options: { samples?: number; passedOver?: string[] } = {}) {
  const path = filters.flatMap((points, index) => {
    const terminalId = String.fromCharCode(97 + index)
    return Array.from({ length: points }, () => ({ terminalId, passedOver: options.passedOver?.includes(terminalId) ?? false }))
  })
  const values = new Map<string, string>()
  const board: Board = {
    path: path.map((point, index) => ({ ...point, point: index + 1 })),
    samplesPerPoint: options.samples ?? 1,
    filled: (place) => values.has(keyOf(place)),
    read: (text) => {
      const si = Number(text.replace(',', '.'))
      return Number.isFinite(si)
        ? { ok: true, value: { typed: text, unit: 'm/s', si } }
        : { ok: false, problem: { code: 'test.not_a_number', params: {} } }
    },
  }
  let state = startTyping({ point: 1, sample: 1 })
  const commits: Commit[] = []
  const press = (...keys: string[]) => {
    for (const key of keys) {
      const event = eventOfKey(key)
      if (!event) throw new Error(`no typing key: ${key}`)
      const step = stepTyping(state, event, board)
      state = step.state
      if (step.commit) {
        commits.push(step.commit)
        values.set(keyOf(step.commit.place), step.commit.value.typed)
      }
    }
  }
  return {
    board,
    values,
    commits,
    press,
    number: (text: string) => press(...text, 'Enter'),
    go: (to: Place) => {
      state = stepTyping(state, { kind: 'go', to }, board).state
    },
    repeat: (terminalId: string) => {
      state = stepTyping(state, { kind: 'repeat', terminalId }, board).state
    },
    state: (): TypingState => state,
  }
}

describe('typing readings', () => {
  test('a nine-point filter takes nine numbers and nine Enters, and then the next filter is there', () => {
    const b = bench([9, 9])
    for (let i = 1; i <= 9; i += 1) b.number(`0.4${i}`)
    expect(b.commits.map((commit) => commit.place.point)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9])
    expect(b.commits.map((commit) => commit.value.typed)).toEqual(['0.41', '0.42', '0.43', '0.44', '0.45', '0.46', '0.47', '0.48', '0.49'])
    expect(b.state().at).toEqual({ point: 10, sample: 1 })
  })

  test('keeps the number as it was typed, comma or point', () => {
    const b = bench([2])
    b.number('0,46')
    expect(b.commits[0]?.value).toEqual({ typed: '0,46', unit: 'm/s', si: 0.46 })
  })

  test('a bouncing Enter does not skip a point', () => {
    const b = bench([3])
    b.press('0', '.', '4', 'Enter', 'Enter', 'Enter')
    expect(b.commits).toHaveLength(1)
    expect(b.state().at).toEqual({ point: 2, sample: 1 })
  })

  test('after the last point nothing is current, so that one more number cannot overwrite it', () => {
    const b = bench([2])
    b.number('0.4')
    b.number('0.5')
    expect(b.state().at).toBeNull()
    b.number('0.6')
    expect(b.commits).toHaveLength(2)
  })

  test('a text that is no number stays to be mended, with its problem beside it', () => {
    const b = bench([2])
    b.press('0', '.', '4', '.', '5', 'Enter')
    expect(b.commits).toHaveLength(0)
    expect(b.state().problem?.code).toBe('test.not_a_number')
    expect(draftOf(b.state())).toBe('0.4.5')
    b.press('Backspace')
    expect(b.state().problem).toBeNull()
    b.press('Backspace', '5', 'Enter')
    expect(b.commits[0]?.value.typed).toBe('0.45')
  })

  test('a held key ends at the longest number a cell takes', () => {
    const b = bench([1])
    b.press(...Array.from({ length: 40 }, () => '4'))
    expect(draftOf(b.state())).toHaveLength(LONGEST_DRAFT)
  })

  test('takes every sample of a point before the next point', () => {
    const b = bench([2], { samples: 3 })
    for (const text of ['1', '2', '3', '4']) b.number(text)
    expect(b.commits.map((commit) => keyOf(commit.place))).toEqual(['1:1', '1:2', '1:3', '2:1'])
    expect(b.state().at).toEqual({ point: 2, sample: 2 })
  })

  test('passes over a filter that has a written reason for being left out', () => {
    const b = bench([1, 2, 1], { passedOver: ['b'] })
    b.number('0.4')
    expect(b.state().at).toEqual({ point: 4, sample: 1 })
  })
})

describe('correcting', () => {
  test('a corrected point brings the person back to where he was', () => {
    const b = bench([6])
    for (const text of ['1', '2', '3']) b.number(text)
    b.go({ point: 2, sample: 1 })
    b.go({ point: 1, sample: 1 })
    b.number('9')
    expect(b.commits.at(-1)).toMatchObject({ place: { point: 1 }, value: { typed: '9' } })
    expect(b.state().at).toEqual({ point: 4, sample: 1 })
  })

  test('a half typed number waits at its place while the person looks at another point', () => {
    const b = bench([3])
    b.press('0', '.', '4')
    b.go({ point: 3, sample: 1 })
    expect(draftOf(b.state())).toBe('')
    b.go({ point: 1, sample: 1 })
    expect(draftOf(b.state())).toBe('0.4')
  })

  test('Enter without a number on a measured point goes on', () => {
    const b = bench([3])
    b.number('1')
    b.number('2')
    b.go({ point: 1, sample: 1 })
    b.press('Enter')
    expect(b.state().at).toEqual({ point: 3, sample: 1 })
    expect(b.commits).toHaveLength(2)
  })

  test('measuring a filter again walks through all its points, then goes on to the next filter that waits', () => {
    const b = bench([2, 2, 2])
    for (const text of ['1', '2', '3', '4']) b.number(text)
    b.repeat('a')
    b.number('8')
    expect(b.state().at).toEqual({ point: 2, sample: 1 })
    b.number('9')
    expect(b.values.get('1:1')).toBe('8')
    expect(b.values.get('2:1')).toBe('9')
    expect(b.state().at).toEqual({ point: 5, sample: 1 })
    expect(b.state().repeating).toBeNull()
  })

  test('a place that is not on the path is not gone to', () => {
    const b = bench([2])
    b.go({ point: 7, sample: 1 })
    b.go({ point: 1, sample: 2 })
    expect(b.state().at).toEqual({ point: 1, sample: 1 })
  })
})

describe('where to stand after a restart', () => {
  test('at the first point without a number after the last one measured', () => {
    const b = bench([3, 3])
    for (const text of ['1', '2', '3', '4']) b.number(text)
    expect(placeToStart(b.board, null, { point: 4, sample: 1 })).toEqual({ point: 5, sample: 1 })
  })
  test('at the remembered place when there is one', () => {
    const b = bench([3])
    expect(placeToStart(b.board, { point: 2, sample: 1 }, null)).toEqual({ point: 2, sample: 1 })
    expect(placeToStart(b.board, { point: 9, sample: 1 }, null)).toEqual({ point: 1, sample: 1 })
  })
  test('nowhere when every point has its number', () => {
    const b = bench([1])
    b.number('1')
    expect(placeToStart(b.board, null, { point: 1, sample: 1 })).toBeNull()
  })
})

test('whatever is pressed: nothing is committed without a number and an Enter, and every commit is at the place that was shown', () => {
  const keys = fc.constantFrom('0', '4', '5', '.', ',', 'Backspace', 'Escape', 'Enter', 'go1', 'go4', 'repeat')
  fc.assert(
    fc.property(fc.array(keys, { maxLength: 80 }), fc.integer({ min: 1, max: 3 }), (pressed, samples) => {
      const b = bench([3, 2], { samples })
      for (const key of pressed) {
        const before = b.state()
        const count = b.commits.length
        if (key === 'repeat') b.repeat('a')
        else if (key.startsWith('go')) b.go({ point: Number(key.slice(2)), sample: 1 })
        else b.press(key)
        if (b.commits.length === count) continue
        expect(key).toBe('Enter')
        expect(draftOf(before)).not.toBe('')
        expect(b.commits.at(-1)?.place).toEqual(before.at)
        expect(b.commits.at(-1)?.value.typed).toBe(draftOf(before))
      }
      const at = b.state().at
      if (at) expect(at.point >= 1 && at.point <= 5 && at.sample >= 1 && at.sample <= samples).toBe(true)
    }),
  )
})
