import type { OutgoingRecord } from '#renderer/readings/outgoing.ts'

export const uuid = (n: number) => `01890000-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
export const RUN = uuid(0xabc)

/** One typed velocity on its way to the project. */
export function record(
  n: number,
  point: number,
  typed: string,
  replaces: OutgoingRecord['entries'][number]['replaces'] = null,
): OutgoingRecord {
  return {
    kind: 'record',
    commandId: uuid(n),
    personId: uuid(1000),
    reason: '',
    at: '2026-03-02T08:15:00.000Z',
    sent: false,
    refused: null,
    instrumentId: uuid(2000),
    entries: [{ point, sample: 1, typed, unit: 'm/s', si: Number(typed), replaces, note: '' }],
  }
}
