import type { FieldWords } from './changes-in-words.ts'
import type { CustomerFields, SiteFields } from './customers-contract.ts'

/** What the fields of a household are called, on forms and in the log. */
export const CUSTOMER_WORDS: FieldWords<CustomerFields> = {
  kind: 'person or business',
  sortName: 'name in the lists',
  letterName: 'name on the envelope',
  salutation: 'how a letter begins',
  phone: 'telephone',
  phoneNote: 'when to call',
  email: 'e-mail',
  mailElsewhere: 'mail goes elsewhere',
  mailLine1: 'mail street',
  mailLine2: 'mail second line',
  mailTown: 'mail town',
  mailRegion: 'mail state',
  mailPostalCode: 'mail postal code',
  mailCountry: 'mail country',
  noMail: 'asked for no mail',
  taxExempt: 'pays no tax',
  paymentTermsDays: 'days to pay',
  note: 'note',
}

export const SITE_WORDS: FieldWords<SiteFields> = {
  line1: 'street',
  line2: 'second line',
  town: 'town',
  region: 'state',
  postalCode: 'postal code',
  country: 'country',
  accessNote: 'how to get in',
  waterSource: 'water from',
  hardness: 'hardness of the feed',
  feedTds: 'dissolved solids of the feed',
  people: 'people in the house',
  drunkPerDay: 'water drunk a day',
  monthsAway: 'months away',
}
