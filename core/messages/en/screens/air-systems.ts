type None = Record<never, never>

/** Words of the air systems on the site screen. */
export const airSystems = {
  'systems.title': (p: { facility: string }) => `Air systems of ${p.facility}`,
  'systems.open': (_p: None) => 'Air systems',
  'systems.about': (_p: None) =>
    'The ductwork of one fan or air handler, and what its fan should move. Terminals are put on a system in the room editor.',
  'systems.add': (_p: None) => 'Add an air system',
  'systems.new': (_p: None) => 'New air system',
  'systems.edit': (p: { name: string }) => `Edit ${p.name}`,
  'systems.remove': (p: { name: string }) => `Remove ${p.name}`,
  'systems.name': (_p: None) => 'Name',
  'systems.needs_name': (_p: None) => 'Type a name, such as AHU 1.',
  'systems.name_taken': (p: { name: string }) => `${p.name} is there already. Choose another name.`,
  'systems.supply': (_p: None) => 'Design supply',
  'systems.return': (_p: None) => 'Design return',
  'systems.exhaust': (_p: None) => 'Design exhaust',
  'systems.design_hint': (_p: None) => 'Leave empty what this system does not have.',
  'systems.note': (_p: None) => 'Notes',
  'systems.none': (_p: None) => 'No air system yet.',
  'systems.terminals': (_p: None) => 'Terminals',
  'systems.in_use': (p: { count: number }) =>
    `${p.count} ${p.count === 1 ? 'terminal is' : 'terminals are'} on this system. Take them off it first, in the room editor.`,
}
