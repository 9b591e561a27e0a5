/** Hvad der står ved enhver advarsel. */

export const CAUTION_WORD = "Pas på";

export const DEFERRAL = "Lokale regler og fabrikantens bog bestemmer; "
  + "hvor der kræves autorisation, overlades det til en autoriseret.";

export const OPENING = {
  mark: "stored energy",
  text: "Rækkefølge: kend energien, stop, afbryd, lås af eller sæt skilt på, "
    + "slip det oplagrede løs, prøv at det er dødt.",
};

export const PIECES = {
  mark: "pieces",
  text: "Start ikke, før sporet er lukket, eller det, der mangler, er godkendt skriftligt.",
};

/** Farerne efter deres mærke, som svarene bærer det: ord og tekst. Udvides `spares/domain/cautions.toml`, så også her. */
export const CAUTION_TEXTS = {
  "stored energy": ["oplagret energi", OPENING.text],
  rotating: ["roterende", "Stop, nøgle ud, skilt på starten. Ingen starter, mens en hånd er inde. Hår, ærmer og snore væk."],
  "hot, pressure": ["varmt, tryk", "Lad det køle af, og slip trykket. Trykdækslet til sidst, med en klud, aldrig varmt."],
  oil: ["olie", "Varm olie brænder. Handsker på; tør dryp op, dørken bliver glat. Saml alt, og aflever det i land: intet i bunden, intet over bord."],
  "sea-cock": ["søhane", "Luk hanen, prop og lys klar, sig det til nogen. Åbn igen, og se efter, før du går."],
  pieces: ["stykker", PIECES.text],
  "fuel, petrol": ["brændstof, benzin", "Luft ud, ingen flamme, rør ingen afbryder, tør op; benzindampe synker. En blæser er intet bevis."],
  gas: ["gas", "Kun autoriserede, hvor reglerne siger det; prøv aldrig med en flamme."],
  fumes: ["røggas", "Kulilte lugter ikke: hovedpine, svimmelhed, kvalme, forvirring betyder frisk luft og hjælp; alarm, der virker; frie udløb; ingen i vandet nær et udløb."],
  battery: ["batteri", "Ladegas kan eksplodere (brint 4,1-72 % i luft) og kan forstyrre kuliltealarmer; luft ud, ingen gnister, ingen ringe, isoleret værktøj, beskyttelsesbriller. Lithium: fabrikantens bog."],
  mains: ["netspænding", "Træk landstrømmen ud, stop aggregatet, inverter fra, mål efter, at det er spændingsløst. Fagmand, hvor det kræves. Lækstrøm i vandet kan dræbe svømmere, værst i ferskvand."],
  lifting: ["løft", "Ingen under eller på linje; lasten ned, før hydraulik åbnes."],
  hydraulic: ["hydraulik", "Føl aldrig efter en læk med hånden; olie under huden er et nødstilfælde."],
  "acid, chemicals": ["syre, kemikalier", "Fabrikantens ord om metal og syre; hæld syren i vandet, beskyttelsesbriller, skyl; på drikkevandssiden kun ugiftig væske."],
  "waste gas": ["kloakgas", "Gas fra spildevand kan slå et menneske ud: luft først, aldrig alene, gå ikke ind."],
  "enclosed space": ["lukket rum", "Gå ikke ind, før luften er prøvet og et menneske står udenfor; rust bruger ilten op."],
  "refrigerant, high-pressure air": ["kølemiddel, trykluft", "Overlad det til autoriserede; tøm og lås beholderen først."],
  "torque, locking": ["moment, låsning", "Kun tal fra fabrikantens bog. En fjederskive er intet bevis for låsning."],
  child: ["barn", "Se og tælle: ja. Varmt, bevægeligt, strømførende, syre: en voksens hænder."],
  "stop values": ["stopværdier", "Stop straks: intet vand ud, olietrykket væk, ny lyd, røg inde, alarm."],
  "dated safety gear": ["sikkerhedsudstyr med dato", "Den trykte dato og flagets regler bestemmer. Listen minder kun om det."],
};

/** Linjer, der sættes hak ved, og hvad der ellers står ved farer og samlinger, efter deres engelske tekst. */
export const CAUTION_LINES = {
  "named as a hazard; what to do about it is not written here.": "nævnt som en fare; hvad der skal gøres ved den, er ikke skrevet her.",
  "Shut down and isolated, locked or tagged": "Stoppet og afbrudt, låst af eller skilt på",
  "Stored energy released, tried dead": "Oplagret energi sluppet løs, prøvet at det er dødt",
  "Stopped, key out, automatic start off, tag on the start": "Stoppet, nøgle ud, automatisk start slået fra, skilt på starten",
  "Guards back, tools out, tag off last": "Skærme på igen, værktøj væk, skiltet af til sidst",
  "Cooled, pressure let off": "Kølet af, trykket sluppet",
  "Level made up, cap on, no leak when warm": "Fyldt op, dæksel på, ingen læk når den er varm",
  "Oil level seen, none left in the bilge": "Oliestand set, ingen olie tilbage i bunden",
  "Sea-cock shut, plug and light at hand, someone told": "Søhane lukket, prop og lys klar, sagt til nogen",
  "Sea-cock open again, joints looked at": "Søhane åben igen, samlinger set efter",
  "Fuel shut off, flames out, space aired": "Brændstof lukket, flammer slukket, rummet luftet ud",
  "Fuel open again, no drip, no smell": "Brændstof åbent igen, intet dryp, ingen lugt",
  "Gas shut at the bottle, flames out": "Gas lukket ved flasken, flammer slukket",
  "Carbon monoxide alarm tried, space aired": "Kuliltealarm prøvet, rummet luftet ud",
  "Charger and loads off, space aired": "Lader og forbrugere slået fra, rummet luftet ud",
  "Shore unplugged, set stopped, inverter off, proved dead": "Landstrøm trukket ud, aggregat stoppet, inverter fra, målt spændingsløst",
  "Load down, winch and frame secured": "Lasten nede, spil og ramme sikret",
  "Pump stopped, accumulator and hoses let off": "Pumpe stoppet, akkumulator og slanger aflastet",
  "Tank pumped out, space aired, a second person there": "Tank pumpet tom, rummet luftet ud, et menneske mere til stede",
  "Air tested, person outside": "Luften prøvet, et menneske udenfor",
  "Receiver drained and locked": "Beholder tømt og låst",
  "Sensitive loads last, when voltage and frequency stand.": "Følsomme forbrugere til sidst, når spænding og frekvens står.",
  "split washer": "fjederskive",
  "A split washer is no proof of locking: once flat it is a plain washer. What holds is the tension in the bolt; where the maker asks for a lock, use the one he names.": "En fjederskive er intet bevis for låsning: flad er den en almindelig skive. Det, der holder, er spændingen i bolten; hvor fabrikanten kræver en lås, bruges den, han nævner.",
  "conical washer": "konisk skive",
  "Hollow side towards the part that is clamped, unless the maker's drawing says otherwise; a flattened one is renewed.": "Hul side mod den del, der spændes fast, medmindre fabrikantens tegning siger andet; en fladtrykt fornyes.",
  "single use": "til én gang",
  "Nuts with a locking insert, pins, tabs, soft rings and stretch bolts are for one use: a new one each time.": "Møtrikker med låseindlæg, splitter, låseblik, bløde ringe og strækbolte er til én gang: en ny hver gang.",
  "stainless in aluminium": "rustfrit i aluminium",
  "Stainless in aluminium corrodes and seizes where salt water gets in: insulating paste on thread and under the head. The thread in the aluminium decides the torque, never the screw.": "Rustfrit i aluminium tærer og sætter sig fast, hvor saltvand kommer ind: isolerende pasta på gevindet og under hovedet. Gevindet i aluminiummet bestemmer momentet, aldrig skruen.",
  "stainless on stainless": "rustfrit mod rustfrit",
  "Stainless on stainless galls and then breaks: anti-seize, turn slowly, stop when it turns stiff. Paste lowers the torque that is needed.": "Rustfrit mod rustfrit river og knækker så: brug montagepasta, drej langsomt, stop når den går stramt. Pasta sænker det moment, der skal til.",
  "studs": "støttebolte",
  "A stud that turns with its nut, is stretched or has a damaged thread is renewed before the joint is closed.": "En støttebolt, der drejer med sin møtrik, er strakt eller har skadet gevind, fornyes, før samlingen lukkes.",
  "gasket": "pakning",
  "New gasket on clean, flat, dry faces. Look at the old one first: its print shows where the joint was not tight.": "Ny pakning på rene, plane, tørre flader. Se først på den gamle: dens aftryk viser, hvor samlingen ikke var tæt.",
};
