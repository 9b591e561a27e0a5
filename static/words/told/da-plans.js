/**
 * Hvad planer, eftersyn og aflæsninger siger, på dansk, efter deres engelske tekst; det, som også papirer
 * siger, står i spares/paper/words/da-tables.toml. Af {why}, {due}, {before}, {rest} og {figure} ses efter, om også
 * de er en sætning herfra; de andre navne er oplysninger.
 */

export const PLAN_SENTENCES = {
  // en tur: hvorfor (spares/domain/trip/words.py)
  "{service} ({machine}): {quantity} before leaving, {before}": "{service} ({machine}): {quantity} før afgang, {before}",
  "{before}, renewed in {percent} % of cases": "{before}, fornyet i {percent} % af tilfældene",
  "{service} ({machine}): {quantity} on {due}": "{service} ({machine}): {quantity} på {due}",
  "{service} ({machine}): {quantity} each on {count} more days, the last {day}":
    "{service} ({machine}): {quantity} på hver af {count} dage mere, sidst {day}",
  "{service} ({machine}): {quantity} set aside against breakdown": "{service} ({machine}): {quantity} lagt til side mod havari",
  "keep level {quantity}": "mindst {quantity} om bord",
  "history unknown": "historien er ukendt",
  "{used} used of {interval} and 1 month since {day} over on {due_on}": "{used} brugt af {interval}, og 1 måned siden {day} udløb {due_on}",
  "{used} used of {interval} and {count} months since {day} over on {due_on}": "{used} brugt af {interval}, og {count} måneder siden {day} udløb {due_on}",
  "{used} used of {interval}": "{used} brugt af {interval}",
  "1 month since {day} over on {due_on}": "1 måned siden {day} udløb {due_on}",
  "{count} months since {day} over on {due_on}": "{count} måneder siden {day} udløb {due_on}",
  "day {number}, {day}: {machine} has run {interval}": "dag {number}, {day}: {machine} har gået {interval}",
  "day {number}, {day}: {machine} has run {interval} since {since}": "dag {number}, {day}: {machine} har gået {interval} siden {since}",
  "day {number}, {day}: 1 month since {since}": "dag {number}, {day}: 1 måned siden {since}",
  "day {number}, {day}: {count} months since {since}": "dag {number}, {day}: {count} måneder siden {since}",
  "{due}; done in port on day {number}, {day}": "{due}; gøres i havn på dag {number}, {day}",
  "before leaving: {before}": "før afgang: {before}",
  "{count} times in all, the last on {day}": "{count} gange i alt, sidst {day}",
  "due on arrival, {day}": "skal gøres ved ankomst, {day}",
  "due soon after arrival": "skal gøres kort efter ankomst",
  "failures and worn pieces: {count} enough in {reached} of 100 such trips, {level} asked":
    "svigt og slidte stykker: {count} er nok på {reached} af 100 sådanne ture, {level} ønsket",
  "failures and worn pieces: no spare needed in {reached} of 100 such trips, {level} asked":
    "svigt og slidte stykker: ingen reserve nødvendig på {reached} af 100 sådanne ture, {level} ønsket",
  "{count} in use, {figure}: {mean} failures expected": "{count} i brug, {figure}: {mean} svigt ventes",
  "{machine}: {count} in use, {figure}: {mean} failures expected": "{machine}: {count} i brug, {figure}: {mean} svigt ventes",
  "{days} days, one failure in {mean} days": "{days} dage, ét svigt på {mean} dage",
  "{ran}, one failure in {mean} h": "{ran}, ét svigt på {mean} h",
  "{ran}, own log of 1 failure in {hours} h": "{ran}, egen log med 1 svigt på {hours} h",
  "{ran}, own log of {count} failures in {hours} h": "{ran}, egen log med {count} svigt på {hours} h",
  "{ran}, wears out after {mean} h on average (beta {beta}, eta {eta} h), age not known":
    "{ran}, slides op efter {mean} h i gennemsnit (beta {beta}, eta {eta} h), alder ukendt",
  "{ran}, wears out after {mean} h on average (beta {beta}, eta {eta} h), age {ages}":
    "{ran}, slides op efter {mean} h i gennemsnit (beta {beta}, eta {eta} h), alder {ages}",
  "{figure}, renewed by {service} at {runs}": "{figure}, fornyet ved {service} efter {runs}",
  "Of 100 such trips, {reached} need nothing against breakdown that is not aboard": "Af 100 sådanne ture klarer {reached} sig mod havari med det, der er om bord",
  "Of 100 such trips, {reached} need nothing against breakdown until {harbour} that is not aboard":
    "Af 100 sådanne ture klarer {reached} sig mod havari til {harbour} med det, der er om bord",
  "{why}; with the list bought, {reached}.": "{why}; når listen er købt, {reached}.",
  "Of 100 such trips, {reached} need nothing against breakdown that is not aboard.": "Af 100 sådanne ture klarer {reached} sig mod havari med det, der er om bord.",
  "Of 100 such trips, {reached} need nothing against breakdown until {harbour} that is not aboard.":
    "Af 100 sådanne ture klarer {reached} sig mod havari til {harbour} med det, der er om bord.",
  "the first supply stop": "den første havn med forsyning",
  "{quantity} left over from before": "{quantity} til overs fra før",
  "no running given for {machine}: taken as 0 h": "ingen drift sagt for {machine}: regnet som 0 h",

  // en tur: brændstof, opladning, sæt
  "nobody said what {machine} burns while charging: not in the fuel": "ingen har sagt, hvad {machine} bruger under opladning: ikke med i brændstoffet",
  "{machine} runs {hours}, nobody said how fast: what it burns then is not in the fuel":
    "{machine} går {hours}, ingen har sagt hvor hurtigt: det, den bruger dér, er ikke med i brændstoffet",
  "nobody said what {machine} burns in {hours}: not in the fuel": "ingen har sagt, hvad {machine} bruger på {hours}: ikke med i brændstoffet",
  "the longest stretch between bunkerings burns {litres} L; with {why}, {needed} L are wanted":
    "det længste stræk mellem bunkringer bruger {litres} L; med {why} ønskes {needed} L",
  "the trip burns {litres} L; with {why}, {needed} L are wanted": "turen bruger {litres} L; med {why} ønskes {needed} L",
  "a third out, a third back, a third kept": "en tredjedel ud, en tredjedel hjem, en tredjedel tilbage",
  "{percent} % of the plan kept": "{percent} % af planen tilbage",
  "sun and motoring cover the loads: no generator needed for the battery": "sol og motor dækker forbruget: ingen generator nødvendig til batteriet",
  "other loads keep the generator on for {hours} h a day, charging ({charging} h a day) falls inside":
    "andet forbrug holder generatoren i gang {hours} h om dagen, opladningen ({charging} h om dagen) falder inden for",
  "a charge of {charge} Ah lasts {hours} h": "en opladning på {charge} Ah holder {hours} h",
  "watch: the generator runs at {percent} % of its rated load, under {least} %": "pas på: generatoren går med {percent} % af sin mærkelast, under {least} %",
  "load of the generator not given: fuel not known": "generatorens last er ikke sagt: brændstof ukendt",
  "{part}: no mass is known, so the curve leaves it as it is": "{part}: massen kendes ikke, så kurven lader den være",
  "{part}: no price in {currency} is known, so the curve leaves it as it is": "{part}: prisen i {currency} kendes ikke, så kurven lader den være",
  "{part}: no price in the currency of the plan is known, so the curve leaves it as it is":
    "{part}: prisen i planens valuta kendes ikke, så kurven lader den være",
  "The money does not reach for the services: nothing is left for what may break": "Pengene rækker ikke til eftersynene: der er intet tilbage til det, der kan gå i stykker",
  "no mass is known: nothing is counted against the limit of mass": "ingen masse kendes: intet tæller mod grænsen for masse",
  "mass not known and not in the kilograms: {parts}": "massen kendes ikke og er ikke med i kiloene: {parts}",

  // eftersyn og tællere (spares/domain/service/)
  "nobody knows when it was last done": "ingen ved, hvornår det sidst blev gjort",
  "it was due on {day}": "det skulle gøres {day}",
  "done on {day}, but nobody knows what its counter showed then": "gjort {day}, men ingen ved, hvad tælleren viste dér",
  "done on {day}, but nobody knows what its counter showed then; by the calendar it is due on {due_on}":
    "gjort {day}, men ingen ved, hvad tælleren viste dér; efter kalenderen skal det gøres {due_on}",
  "done on {day}, but nobody knows what its counter showed then; by the calendar it was due on {due_on}":
    "gjort {day}, men ingen ved, hvad tælleren viste dér; efter kalenderen skulle det gøres {due_on}",
  "done on {day}: not used, that day is still to come": "gjort {day}: ikke brugt, den dag kommer først",
  "that day is still to come": "den dag kommer først",
  "last done known only roughly, taken as {day}": "sidst gjort kendes kun omtrent, regnet som {day}",
  "last done is the owner's estimate": "sidst gjort er ejerens skøn",
  "{hours} at the service of {day} not used: {why}": "{hours} ved eftersynet {day} ikke brugt: {why}",
  "first interval {hours}": "første interval {hours}",
  "no interval recorded": "intet interval noteret",
  "running before departure not known, none assumed": "driften før afgang kendes ikke, ingen antaget",
  "counter at the last service worked out from the readings around it": "tælleren ved sidste eftersyn regnet ud fra aflæsningerne omkring det",
  "counter at the baseline worked out from the readings around it": "tælleren ved udgangspunktet regnet ud fra aflæsningerne omkring det",
  "{hours} of running assumed until {day}, as usual": "{hours} drift antaget til {day}, som sædvanligt",
  "last trusted reading is of {day}, {days} days old": "sidste aflæsning, der stoles på, er fra {day}, {days} dage gammel",
  "reading {hours} of {day} not used: {why}": "aflæsningen {hours} fra {day} ikke brugt: {why}",
  "by the usual running the hours may be over since {day}: read the counter": "efter den sædvanlige drift kan timerne være brugt siden {day}: aflæs tælleren",
  "day worked out from the usual running": "dagen regnet ud fra den sædvanlige drift",
  "counted from the baseline of {day}, not from a known service": "talt fra udgangspunktet {day}, ikke fra et kendt eftersyn",
  "its date is counted from the baseline of {day}, not from a known service": "datoen er talt fra udgangspunktet {day}, ikke fra et kendt eftersyn",
  "its place is no longer fitted": "stedet findes ikke mere",
  "{hours} on {day} is above the counter, which cannot have shown more than {most} then; a changed counter is told by a reading with new_counter":
    "{hours} den {day} er over tælleren, som ikke kan have vist mere end {most} dér; en skiftet tæller siges ved en aflæsning med ny tæller",
  "{hours} on {day}": "{hours} den {day}",
  "{day} at {hours}": "{day} ved {hours}",
  "serial {text}": "serienummer {text}",
  "{what}, serial {text}": "{what}, serienummer {text}",
  "a slip, says the reading of {day}": "en fejl, siger aflæsningen fra {day}",
  "lower than the {hours} of {day}": "lavere end {hours} den {day}",
  "higher than the {hours} of {day}, later on": "højere end {hours} den {day}, senere",
  "{hours} since {day} is more than 24 h a day": "{hours} siden {day} er mere end 24 h om dagen",
  "{hours} a day since {day}, over five times the usual {usual} a day": "{hours} om dagen siden {day}, over fem gange de sædvanlige {usual} om dagen",

  // samlinger (spares/actions/joints.py, spares/domain/torque.py)
  "maker's book, page not known": "fabrikantens bog, side ukendt",
  "estimate {low} to {high} N·m": "skøn {low} til {high} N·m",
  "fasteners: 1 to {most} are needed": "bolte: 1 til {most} kræves",
  "rows: {count} fasteners do not make {rows} rows of as many": "rækker: {count} bolte giver ikke {rows} lige store rækker",
  "thread: {text} is no metric or unified thread": "gevind: {text} er intet metrisk eller unified gevind",
  "class: no such property class is known; known are {known}": "klasse: den styrkeklasse kendes ikke; kendte er {known}",

  // et regneark, der hentes ind (spares/transfer/sheet/)
  "The file is not UTF-8; it was read as Windows-1252: look at the accents.": "Filen er ikke UTF-8; den er læst som Windows-1252: se på æ, ø, å og accenter.",
  "a sum, not a thing": "en sum, ikke en ting",
  "the spreadsheet itself could not work this out": "regnearket kunne ikke selv regne det ud",
  "holds a control character": "indeholder et styretegn",
  "far too long": "alt for lang",
  "less than none": "mindre end intet",
  "more than a number": "mere end et tal",
  "a word for a number": "et ord i stedet for et tal",
  "nobody knows how many": "ingen ved hvor mange",
  "thousands or decimals?": "tusinder eller decimaler?",
  "{text}: thousands or decimals?": "{text}: tusinder eller decimaler?",
  "another decimal mark than in this column": "et andet decimaltegn end i denne kolonne",
  "no currency is known for it": "der kendes ingen valuta til den",
  "without a price": "uden pris",
  "neither name nor number": "hverken navn eller nummer",
  "without a name": "uden navn",
  "nobody knows where": "ingen ved hvor",
  "the part without a count": "delen uden antal",
  "no count": "intet antal",
  "row {number} says the same thing": "række {number} siger det samme",
  "row {number} counts the same thing there": "række {number} tæller det samme der",
  "both together": "begge sammen",
  "day and month the other way round than in this column": "dag og måned den anden vej rundt end i denne kolonne",
  "{text} is no day that can be read": "{text} er ingen dag, der kan læses",
};
