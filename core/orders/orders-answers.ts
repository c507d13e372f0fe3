import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { cancelOrder, giveUp, waitAgain } from './close-order-answers.ts'
import { draftOrder, draftOrders, saveDraft } from './draft-order-answers.ts'
import { ordersContract } from './orders-contract.ts'
import { openedProposal, proposals } from './propose-answers.ts'
import { receiveOrder } from './receive-order-answers.ts'
import { sendOrder, setExpected, setRemark } from './send-order-answers.ts'
import { listedOrders, shownOrder } from './show-order-answers.ts'
import { saveSupplier, saveTerm, soldBy, suppliers, terms } from './suppliers-answers.ts'
import { partsForVisit } from './visit-parts-answers.ts'

const door = implement(ordersContract).$context<Desk>()
export const ordersAnswers = door.router({
  proposals: door.proposals.handler(answer((desk) => proposals(desk))),
  proposal: door.proposal.handler(answer(openedProposal)),
  list: door.list.handler(answer((desk) => listedOrders(desk))),
  one: door.one.handler(answer(shownOrder)),
  draft: door.draft.handler(answer(draftOrder)),
  draftAll: door.draftAll.handler(answer(draftOrders)),
  saveDraft: door.saveDraft.handler(answer(saveDraft)),
  send: door.send.handler(answer(sendOrder)),
  setExpected: door.setExpected.handler(answer(setExpected)),
  setRemark: door.setRemark.handler(answer(setRemark)),
  cancel: door.cancel.handler(answer(cancelOrder)),
  giveUp: door.giveUp.handler(answer(giveUp)),
  waitAgain: door.waitAgain.handler(answer(waitAgain)),
  receive: door.receive.handler(answer(receiveOrder)),
  partsForVisit: door.partsForVisit.handler(answer(partsForVisit)),
  suppliers: door.suppliers.handler(answer((desk) => suppliers(desk))),
  saveSupplier: door.saveSupplier.handler(answer(saveSupplier)),
  soldBy: door.soldBy.handler(answer(soldBy)),
  terms: door.terms.handler(answer(terms)),
  saveTerm: door.saveTerm.handler(answer(saveTerm)),
})
