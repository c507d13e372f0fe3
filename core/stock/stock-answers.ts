import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { count, giveBack, move, putRight, receive, scrap } from './move-stock-answers.ts'
import { onHand } from './on-hand-answers.ts'
import { movements, part, parts, savePart } from './part-ledger-answers.ts'
import { places, saveBin, saveVan } from './places-answers.ts'
import { arrive, onTheWay, send } from './send-stock-answers.ts'
import { stockContract } from './stock-contract.ts'

const door = implement(stockContract).$context<Desk>()
export const stockAnswers = door.router({
  parts: door.parts.handler(answer((desk) => parts(desk))),
  part: door.part.handler(answer(part)),
  savePart: door.savePart.handler(answer(savePart)),
  movements: door.movements.handler(answer(movements)),
  places: door.places.handler(answer((desk) => places(desk))),
  saveBin: door.saveBin.handler(answer(saveBin)),
  saveVan: door.saveVan.handler(answer(saveVan)),
  receive: door.receive.handler(answer(receive)),
  move: door.move.handler(answer(move)),
  send: door.send.handler(answer(send)),
  onTheWay: door.onTheWay.handler(answer((desk) => onTheWay(desk))),
  arrive: door.arrive.handler(answer(arrive)),
  onHand: door.onHand.handler(answer(onHand)),
  count: door.count.handler(answer(count)),
  scrap: door.scrap.handler(answer(scrap)),
  giveBack: door.giveBack.handler(answer(giveBack)),
  putRight: door.putRight.handler(answer(putRight)),
})
