const id = (number: number) => `01940000-0000-7000-8000-${String(number).padStart(12, '0')}`

/** One filter of four readings, and all that its budget rests on, in the short form of the exchange: worked by hand in budgets-and-previews.spec.ts. */
export const ONE_BUDGET = {
  format: 'facegrid exchange',
  formatVersion: 1,
  form: 'short',
  entities: [
    { kind: 'project', id: id(1), body: { name: 'One budget', timeZone: 'Europe/Vienna' } },
    { kind: 'person', id: id(2), body: { name: 'Ines Hollerer' } },
    { kind: 'facility', id: id(3), body: { name: 'Building 2' } },
    {
      kind: 'criteria_set',
      id: id(4),
      body: {
        name: 'Mixed air',
        criteria: [
          {
            key: 'air_changes',
            title: 'Air changes',
            quantity: 'air_changes',
            scope: 'room',
            plane: 'any',
            on: true,
            alert: null,
            form: { kind: 'at_least', limit: { from: 'room_required_minimum' } },
            source: 'minimum of the site',
          },
        ],
      },
    },
    {
      kind: 'room',
      id: id(5),
      parentId: id(3),
      body: {
        number: 'M-103',
        shape: { kind: 'rectangle', x: 0, y: 0, width: 3, depth: 4 },
        ceilingHeight: { typed: '2.5', unit: 'm' },
        cleanlinessClass: 'ISO 8',
        occupancyState: 'at_rest',
        airflowType: 'non_unidirectional',
        requiredAirChangesPerHour: 15,
        criteriaSetId: id(4),
      },
    },
    {
      kind: 'terminal',
      id: id(6),
      parentId: id(5),
      body: {
        tag: 'M-103/1',
        kind: 'supply_filter',
        x: 1.5,
        y: 2,
        grossWidth: { typed: '0.6', unit: 'm' },
        grossDepth: { typed: '0.6', unit: 'm' },
        effectiveArea: { typed: '0.36', unit: 'm2' },
      },
    },
    {
      kind: 'instrument',
      id: id(7),
      body: {
        name: 'Vane probe',
        serialNumber: 'VP-0001',
        sensing: 'directional',
        basis: 'actual',
        senses: [
          {
            quantity: 'velocity',
            low: { typed: '0.05', unit: 'm/s' },
            high: { typed: '20', unit: 'm/s' },
            resolution: { typed: '0.01', unit: 'm/s' },
            accuracy: { form: 'sum_of', percentOfReading: 2, absolute: { typed: '0.005', unit: 'm/s' } },
          },
        ],
      },
    },
    {
      kind: 'calibration',
      id: id(8),
      parentId: id(7),
      body: {
        certificateNumber: 'C-21',
        calibratedOn: '2025-10-01',
        dueOn: '2026-09-30',
        uncertainty: [
          { quantity: 'velocity', expandedPercentOfReading: 0, expandedAbsolute: { typed: '0.010', unit: 'm/s' }, coverageFactor: 2 },
        ],
      },
    },
    {
      kind: 'certification',
      id: id(9),
      body: { name: 'Certification 2026', startsOn: '2026-03-02', endsOn: '2026-03-02', purpose: 'periodic', roomIds: [id(5)] },
    },
  ],
  runs: [
    {
      id: id(10),
      certificationId: id(9),
      roomId: id(5),
      phase: 'as_found',
      plane: { kind: 'filter_face', distanceM: 0.15 },
      occupancyState: 'at_rest',
      unit: 'm/s',
      averagingTimeS: 5,
      at: '2026-03-02T08:00:00.000Z',
      instrumentId: id(7),
      personId: id(2),
      grids: [{ terminal: 'M-103/1', rows: 2, columns: 2 }],
      readings: ['0.42', '0.48', '0.44', '0.46'].map((typed, index) => ({ terminal: 'M-103/1', point: index + 1, typed })),
    },
  ],
}
