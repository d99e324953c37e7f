"""Short forms spelt out and typing slips mended, towards the words this chat is about.

A word is only mended when it is close to one of ``WORTH_MENDING``, begins with its letter and
is not itself an everyday word: "steem" is steam, "stream" is not.
"""

from functools import lru_cache

from rapidfuzz.distance import OSA

SHORT_FORMS: dict[str, str] = {
    # what a phone leaves out of the apostrophes
    "cant": "can not",
    "cannot": "can not",
    "can't": "can not",
    "cnt": "can not",
    "dont": "do not",
    "don't": "do not",
    "doesnt": "does not",
    "doesn't": "does not",
    "didnt": "did not",
    "didn't": "did not",
    "isnt": "is not",
    "isn't": "is not",
    "aint": "is not",
    "ain't": "is not",
    "arent": "are not",
    "aren't": "are not",
    "wasnt": "was not",
    "wasn't": "was not",
    "wont": "will not",
    "won't": "will not",
    "wouldnt": "would not",
    "wouldn't": "would not",
    "couldnt": "could not",
    "couldn't": "could not",
    "shouldnt": "should not",
    "shouldn't": "should not",
    "havent": "have not",
    "haven't": "have not",
    "hasnt": "has not",
    "hasn't": "has not",
    "hadnt": "had not",
    "hadn't": "had not",
    "its": "it is",
    "it's": "it is",
    "tis": "it is",
    "thats": "that is",
    "that's": "that is",
    "theres": "there is",
    "there's": "there is",
    "heres": "here is",
    "here's": "here is",
    "whats": "what is",
    "what's": "what is",
    "wheres": "where is",
    "where's": "where is",
    "whens": "when is",
    "when's": "when is",
    "hows": "how is",
    "how's": "how is",
    "im": "i am",
    "shes": "she is",
    "hes": "he is",
    "i'm": "i am",
    "ive": "i have",
    "i've": "i have",
    "ill": "i will",
    "i'll": "i will",
    "id": "i would",
    "i'd": "i would",
    "we're": "we are",
    "we've": "we have",
    "weve": "we have",
    "we'll": "we will",
    "youre": "you are",
    "you're": "you are",
    "you've": "you have",
    "they're": "they are",
    "let's": "let us",
    "lets": "let us",
    "fire's": "fire is",
    "oven's": "oven is",
    "top's": "top is",
    "dome's": "dome is",
    "door's": "door is",
    "smoke's": "smoke is",
    "gonna": "going to",
    "gotta": "have to",
    "gimme": "give me",
    "lemme": "let me",
    "wanna": "want to",
    "dunno": "do not know",
    "kinda": "kind of",
    "cos": "because",
    "coz": "because",
    "cuz": "because",
    # thumbs
    "u": "you",
    "ur": "your",
    "r": "are",
    "k": "ok",
    "kk": "ok",
    "okay": "ok",
    "okey": "ok",
    "okie": "ok",
    "oke": "ok",
    "pls": "please",
    "plz": "please",
    "thx": "thanks",
    "ty": "thanks",
    "tnx": "thanks",
    "tx": "thanks",
    "w": "with",
    "bout": "about",
    "abt": "about",
    "approx": "about",
    "approximately": "about",
    "roughly": "about",
    "circa": "about",
    "ca": "about",
    "rn": "right now",
    "atm": "right now",
    "nw": "now",
    "tmrw": "tomorrow",
    "tmw": "tomorrow",
    "tmr": "tomorrow",
    "tomoro": "tomorrow",
    "2moro": "tomorrow",
    "tomoz": "tomorrow",
    "tomo": "tomorrow",
    "tomorow": "tomorrow",
    "tommorow": "tomorrow",
    "tommorrow": "tomorrow",
    "2mrw": "tomorrow",
    "tonite": "tonight",
    "2nite": "tonight",
    "nite": "night",
    "yday": "yesterday",
    "wknd": "weekend",
    "wkend": "weekend",
    "wk": "week",
    "temp": "temperature",
    "temps": "temperature",
    "temprature": "temperature",
    "tempreature": "temperature",
    "thermo": "thermometer",
    "deg": "degrees",
    "degs": "degrees",
    "degree": "degrees",
    "dgrees": "degrees",
    "celcius": "celsius",
    "celcuis": "celsius",
    "celsuis": "celsius",
    "centigrade": "celsius",
    "centigrad": "celsius",
    "farenheit": "fahrenheit",
    "farenheight": "fahrenheit",
    "fahrenheight": "fahrenheit",
    "farhenheit": "fahrenheit",
    "fahreneit": "fahrenheit",
    "min": "minutes",
    "mins": "minutes",
    "minute": "minutes",
    "minuts": "minutes",
    "minutos": "minutes",
    "hr": "hours",
    "hrs": "hours",
    "hour": "hours",
    "sec": "seconds",
    "secs": "seconds",
    "tpo": "top",
    "otp": "top",
    "teh": "the",
    "adn": "and",
    "nto": "not",
    "fo": "of",
    "si": "is",
    "sied": "side",
    "sieds": "sides",
    "sdies": "sides",
    "sids": "sides",
    "siide": "side",
    "dom": "dome",
    "wether": "weather",
    "litt": "lit",
    "lti": "lit",
    "litted": "lit",
    "lighted": "lit",
    "strated": "started",
    "satrted": "started",
    "stedy": "steady",
    "rainin": "raining",
    "rainning": "raining",
    "rainig": "raining",
    "pissing": "raining",
    "chucking": "chucking",
    "peices": "pieces",
    "peice": "pieces",
    "smokey": "smoky",
    "hedache": "headache",
    "headake": "headache",
    "hedake": "headache",
    "dizy": "dizzy",
    "dissy": "dizzy",
    "vomitting": "vomiting",
}

_AFTER_A_NUMBER: dict[str, str] = {
    "c": "c",
    "f": "f",
    "m": "minutes",
    "h": "hours",
    "am": "am",
    "pm": "pm",
    "a": "am",
    "p": "pm",
    "d": "degrees",
}

WORTH_MENDING: tuple[str, ...] = tuple(
    ["temperature", "thermometer", "degrees", "fahrenheit", "celsius", "reading", "about", "between", "sides", "crown", "hearth", "floor", "chimney", "flames", "steam", "steaming", "smoke", "smoky", "smoking", "crack", "cracks", "cracked", "hairline", "popping", "flaking", "spalling", "damp", "soot", "clear", "raining", "rained", "drizzle", "drizzling", "pouring", "windy", "gusty", "storm", "snowing", "frost", "frozen", "freezing", "soaked", "sunny", "stoked", "added", "burning", "started", "lighted", "matches", "kindling", "pieces", "splits", "sticks", "quarter", "o'clock", "minutes", "hours", "morning", "afternoon", "evening", "tonight", "tomorrow", "yesterday", "weekend", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday", "week", "busy", "working", "holiday", "available", "dizzy", "headache", "nausea", "nauseous", "unwell", "fainting", "fainted", "vomiting", "burned", "burnt", "carbon", "monoxide", "alarm", "ambulance", "breathe", "breathing", "thanks", "thank", "hello", "undo", "delete", "mistake", "question", "pizza", "bread", "cooking", "bake", "finished", "leaving", "shopping", "neighbours", "restrictions", "tonight", "later", "busy", "reached", "steady", "dropping", "climbing", "rising"]
)

EVERYDAY: frozenset[str] = frozenset(
    ["about", "above", "across", "after", "again", "against", "almost", "alone", "along", "already", "alright", "also", "although", "always", "and", "another", "any", "anyone", "anything", "around", "asked", "away", "back", "bad", "bake", "baker", "bakes", "baking", "balmy", "based", "because", "been", "before", "began", "behind", "being", "below", "beside", "best", "better", "between", "big", "bit", "black", "block", "blocks", "blow", "bread", "break", "bricks", "bring", "broad", "broke", "brown", "build", "building", "built", "burn", "burns", "business", "busted", "busy", "buy", "call", "called", "calm", "came", "care", "cars", "catch", "cause", "change", "check", "checking", "children", "church", "claim", "clean", "cleaning", "cleared", "clearer", "clears", "climb", "climbed", "close", "closed", "closer", "cloud", "clouds", "cloudy", "coal", "coals", "cold", "colder", "cook", "cooks", "cool", "cooled", "cooling", "could", "couple", "course", "cover", "covered", "crank", "crash", "crew", "crowd", "cried", "dad", "dark", "dead", "deal", "dinner", "doing", "dome", "done", "doors", "down", "draft", "drag", "dram", "drop", "dropped", "drops", "dry", "drying", "during", "early", "earth", "east", "easy", "egg", "eight", "else", "embers", "empty", "end", "enough", "even", "ever", "every", "everything", "face", "fair", "fall", "fallen", "falling", "family", "fast", "faster", "feel", "feels", "felt", "few", "fill", "find", "fine", "finish", "fires", "first", "five", "flame", "flat", "flood", "floors", "flour", "follow", "food", "foot", "found", "four", "free", "fresh", "fried", "friend", "from", "front", "full", "funny", "garden", "gave", "getting", "girl", "give", "glad", "goes", "going", "gone", "good", "grass", "great", "green", "ground", "growing", "had", "half", "hand", "hands", "hang", "happen", "happening", "hard", "has", "have", "head", "heart", "hearts", "heat", "heater", "heath", "heating", "heavy", "help", "here", "high", "higher", "hold", "holding", "hole", "home", "hope", "hot", "hotter", "house", "huge", "idea", "inside", "into", "just", "keep", "kids", "kind", "kitchen", "knew", "know", "large", "last", "late", "left", "less", "let", "life", "light", "lighter", "lighting", "lights", "like", "liked", "little", "live", "load", "loads", "log", "logs", "long", "longer", "look", "looking", "looks", "lost", "lot", "lots", "loud", "low", "lower", "lunch", "made", "make", "makes", "making", "many", "march", "matter", "maybe", "mean", "means", "meant", "measure", "middle", "might", "mild", "mind", "mins", "miss", "moan", "moment", "more", "most", "mouth", "move", "much", "mums", "must", "name", "near", "nearly", "need", "needs", "never", "new", "next", "nice", "night", "nine", "none", "noon", "normal", "north", "nothing", "now", "number", "off", "often", "okay", "old", "once", "one", "only", "onto", "open", "opened", "orange", "other", "ours", "out", "outer", "outside", "oven", "over", "own", "pain", "paint", "park", "part", "party", "past", "people", "person", "phone", "pick", "picked", "pile", "pipe", "pizzas", "place", "plan", "play", "please", "pond", "poor", "pops", "port", "pound", "power", "press", "pretty", "problem", "pull", "pulled", "push", "put", "quick", "quiet", "quite", "rail", "railing", "rain", "rains", "raise", "raised", "rather", "reach", "reader", "reads", "ready", "real", "really", "red", "rest", "right", "ring", "ringing", "rise", "risen", "road", "roof", "room", "round", "run", "running", "said", "same", "sand", "sat", "saw", "says", "scared", "second", "see", "seem", "seems", "seen", "send", "sent", "set", "seven", "shall", "share", "sharp", "she", "shell", "shift", "shine", "shop", "short", "should", "show", "shown", "shut", "sick", "side", "sight", "since", "sit", "six", "size", "skin", "sky", "slab", "slack", "sleep", "slide", "slides", "slow", "slower", "slowly", "small", "smell", "smells", "smile", "smoked", "smooth", "snow", "soak", "soft", "some", "someone", "something", "son", "soon", "sore", "sort", "sound", "south", "space", "spare", "speak", "spot", "spots", "spread", "stack", "stand", "start", "starting", "state", "stay", "steal", "steel", "steep", "stick", "still", "stir", "stock", "stocked", "stocking", "stoke", "stokes", "stone", "stones", "stood", "stop", "stopped", "stopping", "story", "stove", "straight", "strange", "stream", "street", "stress", "stroke", "stroked", "strong", "stuck", "stuff", "sudden", "sun", "super", "supper", "sure", "surface", "sweat", "swear", "take", "taken", "takes", "taking", "talk", "team", "tell", "ten", "test", "than", "thank", "that", "the", "their", "them", "then", "there", "these", "they", "thick", "thing", "things", "think", "third", "this", "those", "though", "thought", "three", "through", "throw", "tight", "time", "tired", "today", "together", "told", "too", "took", "top", "touch", "toward", "track", "trade", "train", "training", "tree", "trees", "tried", "trip", "trouble", "true", "trust", "try", "trying", "turn", "turned", "twelve", "two", "under", "until", "upon", "used", "using", "usual", "very", "visit", "wait", "waiting", "walk", "wall", "walls", "want", "warm", "warmer", "was", "waste", "watch", "watching", "water", "wear", "weather", "weird", "well", "went", "were", "west", "wet", "what", "wheel", "when", "where", "which", "while", "white", "who", "whole", "why", "wife", "wild", "will", "wind", "window", "winds", "wine", "winter", "wish", "with", "without", "wonder", "wood", "word", "words", "work", "works", "world", "worried", "worry", "worse", "worst", "would", "wrap", "write", "wrong", "year", "years", "yellow", "yes", "yet", "you", "young", "your", "hearing", "heard", "bearing", "roman", "hats", "smokes", "steamed", "steams", "cracker", "cracking", "draining", "straining", "trained", "gaining", "dumped", "damper", "lamp", "camp", "stamp", "sooth", "foot", "boot", "root", "shoot", "clearly", "smoker", "stokers", "stoking", "adder", "adders", "burner", "burners", "burnout", "starter", "stared", "stairs", "staged", "sticky", "spits", "split", "sprits", "pieced", "prices", "morning", "mourning", "evenings", "weekday", "weekends", "friend", "quarters", "quarry", "thinks", "tank", "shank", "hollow", "jello", "cellar", "undone", "unto", "deleted", "finish", "finishes", "leaves", "learning", "laving", "shipping", "chopping", "hopping", "stopping", "sloping", "dripping", "sitting", "rings", "raising", "rinsing", "arising", "easy", "ready", "study", "stead", "reached", "leached", "bread", "broad", "beard", "breath", "harm", "alarmed", "crowns", "crows", "grown", "drown", "brown", "hearths", "hearty", "health", "floors", "flour", "flood", "flames", "frames", "blames", "steak", "stem", "stems", "smoking", "smirking", "soak", "soaks", "socked", "sucked", "sonny", "funny", "gutsy", "dusty", "rusty", "musty", "winds", "wendy", "wordy", "store", "strom", "form", "forms", "frosty", "forest", "frosts", "first", "flaring", "fading", "blazing", "poring", "porting", "pointing", "posing", "roaring", "touring", "working", "walking", "waking", "wording", "marking", "cooling", "booking", "looking", "coking", "baking", "making", "taking", "holidays", "later", "latter", "laser", "layer", "water", "busy", "bus", "bury", "bust", "reading", "leading", "heading", "rending", "readings", "thermometers", "hourly", "minute", "hours", "ours", "house", "monthly", "sundry", "sundays", "mondays", "saturdays", "fridays", "abort", "aided", "alter", "baked", "blake", "bleaching", "bleating", "blurring", "brake", "breached", "breaches", "breaching", "breaking", "breathed", "breather", "breaths", "breed", "brunt", "burdened", "buried", "burping", "burst", "bursting", "burying", "bushy", "carjacked", "carson", "carton", "choking", "choosing", "clacks", "claiming", "clamping", "clicking", "clinging", "clinking", "clipping", "cloaking", "clocking", "clown", "clubbing", "cocking", "coloring", "cooing", "crackers", "crackhead", "crackles", "cranked", "cranks", "crick", "croaking", "crock", "dazzling", "decrees", "delegate", "depleted", "dizzying", "dribbling", "drilling", "drooling", "drooping", "drowning", "faintest", "faking", "famished", "flagging", "flailing", "flakes", "flaming", "flamingo", "flanking", "flapping", "flares", "flashing", "flaunting", "fleeting", "flicking", "flinging", "flirting", "flitting", "floating", "flocking", "flunking", "freaking", "freeing", "fretting", "fronting", "froze", "furnished", "gusto", "gusts", "heartache", "hells", "lager", "latex", "lather", "leaking", "leaning", "leaping", "leasing", "lighten", "lightened", "lightest", "liter", "marches", "matched", "matthews", "mistaken", "moaning", "mooning", "mounting", "neighbor", "neighbors", "pierces", "pooping", "posturing", "pounding", "pouting", "powering", "prepping", "procuring", "propping", "quartered", "quarterly", "quartet", "questioned", "raided", "raiding", "rationing", "reaches", "reaching", "reacted", "reacting", "readying", "reaping", "rearing", "receding", "redacted", "refining", "regained", "regaining", "regarding", "reigning", "relating", "relaxing", "relaying", "remained", "remaining", "remaking", "repaying", "rereading", "residing", "restricting", "retained", "retaining", "revising", "rewarding", "riding", "risking", "ruined", "ruining", "scalding", "scooping", "scoot", "screaming", "shearing", "shelling", "shilling", "shocking", "shooting", "shorting", "shouting", "showing", "sided", "sites", "sixes", "sizes", "skipping", "slapping", "slipping", "slits", "slowing", "smacking", "smearing", "smelling", "smokey", "smote", "snaked", "snapping", "snarling", "sneaking", "snogging", "snooping", "snoring", "snorting", "soared", "sowing", "spanking", "spanning", "sparking", "sparkling", "sparring", "spawning", "speaking", "spelling", "spilling", "spoiling", "spoke", "spooking", "sprawling", "stacks", "staked", "stalking", "stalling", "stamping", "starched", "starling", "starred", "starters", "startled", "starved", "stated", "steadily", "stealing", "steamy", "steering", "stemming", "stepping", "sterling", "stickers", "stinks", "stocks", "stomping", "stoned", "stooping", "stored", "stork", "storming", "stormy", "stowed", "straying", "streaking", "streaming", "stroking", "sundae", "swapping", "swearing", "sweating", "swelling", "swooping", "tanks", "temperate", "thane", "visiting", "weakened", "worrying"]
)

_WORTH = frozenset(WORTH_MENDING)


def expand(raw: str, *, after_number: bool) -> list[str]:
    """The words behind one typed word; ``after_number`` when glued to figures ("10m")."""
    if after_number and raw in _AFTER_A_NUMBER:
        return [_AFTER_A_NUMBER[raw]]
    if raw in SHORT_FORMS:
        return SHORT_FORMS[raw].split()
    if raw.endswith("'s") and len(raw) > 3:
        return [raw[:-2], "is"] if raw[:-2] in ("it", "that", "there", "he", "she") else [raw[:-2]]
    return [raw.replace("'", "")] if raw != "o'clock" else [raw]


@lru_cache(maxsize=4096)
def spell(word: str) -> str:
    """``word``, or the word worth mending that it was most likely meant to be."""
    if len(word) < 5 or len(word) > 14 or word in _WORTH or word in EVERYDAY:
        return word
    allowed = 1 if len(word) < 8 else 2
    best, best_distance = word, allowed + 1
    for candidate in WORTH_MENDING:
        if abs(len(candidate) - len(word)) > allowed or not _same_start(word, candidate):
            continue
        distance = OSA.distance(word, candidate, score_cutoff=allowed)
        if distance < best_distance:
            best, best_distance = candidate, distance
    return best


def _same_start(word: str, candidate: str) -> bool:
    return word[0] == candidate[0] or word[:2] == candidate[1::-1]
