/** What is wrong with a value as typed. Each sentence says what to type instead. */
export const units = {
  'units.empty': (_p: Record<never, never>) => 'Type a number.',
  'units.too_long': (p: { most: number }) => `This is too long for a value. Type at most ${p.most} characters.`,
  'units.not_a_number': (p: { typed: string }) => `“${p.typed}” is not a number. Type digits, such as 0.45 or 0,45.`,
  'units.ambiguous': (p: { typed: string; whole: string; fraction: string }) =>
    `“${p.typed}” can be read in two ways, a thousand times apart. Type ${p.whole} or ${p.fraction}.`,
  'units.feet_or_thousands': (p: { typed: string; whole: string; feet: string }) =>
    `“${p.typed}” can be read in two ways: as thousands parted by an apostrophe, or as feet and inches. Type ${p.whole} or ${p.feet}.`,
  'units.two_numbers': (p: { typed: string }) =>
    `“${p.typed}” reads as two numbers, or as one that is larger than anything measured here. Type one number, without gaps.`,
  'units.raised_digit': (p: { typed: string }) =>
    `“${p.typed}” has a raised, lowered or circled digit in its number. Type plain digits, such as 0.45 or 0,45.`,
  'units.unknown_unit': (p: { suffix: string; example: string }) =>
    `“${p.suffix}” is not a unit known here. Type the number alone, or with a unit such as ${p.example}.`,
  'units.other_dimension': (p: { given: string; example: string }) =>
    `${p.given} does not belong here. Type the number alone, or with a unit such as ${p.example}.`,
  'units.inches_too_many': (p: { typed: string }) =>
    `“${p.typed}”: after feet, inches go from 0 to less than 12, and the feet are whole. Type for example 7' 6".`,
}
