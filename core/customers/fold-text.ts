/** Letters that keep no plain letter when their marks are taken away. */
const PLAIN: Readonly<Record<string, string>> = {
  ß: 'ss',
  ł: 'l',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  þ: 'th',
  æ: 'ae',
  œ: 'oe',
  ı: 'i',
}
const MARKED = /[ßłøđðþæœı]/g

/** For finding and sorting: small letters, no accents or umlauts, one space between words. `foldText('Łódź  Ångström')` is "lodz angstrom". */
export function foldText(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(MARKED, (letter) => PLAIN[letter] ?? letter)
    .replace(/[’ʼ`´]/g, "'")
    .replace(/\s+/g, ' ')
    .trim()
}

/** Only the digits of a telephone number: "(0) 555-0142 ext. 3" is "055501423". */
export function phoneDigits(text: string): string {
  return text.replace(/\D/g, '')
}
