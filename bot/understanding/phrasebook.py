"""How owners say things: the words and phrases behind each kind of remark.

Written in the language of ``patterns``; short forms are already spelt out here ("cant" reads
"can not", "its" reads "it is"). To teach the chat a new way of saying something, add a line.
"""

import re

from bot.understanding.patterns import Pattern, phrases

NEGATORS = frozenset(
    [
        "nobody",
        "noone",
        "no",
        "not",
        "never",
        "without",
        "nothing",
        "none",
        "hardly",
        "nor",
        "neither",
        "zero",
        "nope",
        "nowt",
    ]
)

NEW_START = phrases(
    """
    it is
    i have
    i am
    we are
    we have
    there is
    there are
    is (it|this|that|there) (ok|normal|alright|fine|too|enough|safe|bad|right|a)
    is (it|this|that)
    what (now|next|do|should|is|shall)
    should (i|we|it)
    shall (i|we)
    can (i|we|it)
    do (i|we|you)
    how (long|much|many|do|hot|big|should)
    when (do|can|should|is)
    currently
    let us
    (now|currently) (at|it|showing|reading|on)
    """
)

ASKING = phrases(
    """
    ^ (what|when|how|why|where|which|who|whats)
    ^ (can|could|should|shall|may|must|would|might|am|do|does|did|will|has|have|is|are|was) (i|we|it|you|they|this|that|these|there|the|my|our|he|she|a)
    ^ is [it] (ok|normal|safe|alright|fine|possible|dangerous|bad)
    ^ is # (too|ok|normal|high|hot|low|good|enough|the|right|safe|fine|a|alright)
    ^ is .. (ok|normal|safe|alright|fine|bad|good enough|good) $
    ^ y (so|is|does|not|the)
    ^ (ok|okay|safe|fine|alright|possible) to
    ^ any (idea|chance|advice|tips|way|point|reason)
    ^ [please] (tell|explain|advise|remind) me
    (i|just) (wonder|wondering|wondered)
    (do not|not) know (if|whether|how|what|when|why|where)
    (not|am not) sure (if|whether|how|what|when|why|where)
    (want|need|like) to (know|ask)
    ^ (question|quick question)
    """
)

SUPPOSING = phrases(
    """
    what if
    what (happens|happen) (if|when)
    ^ (if|once|until|till|unless|when|before|after) (it|i|we|the|temp*|top|dome|that|you|over|under|above|this|there|fire)
    (if|once|until|till|unless) (it|i|we|the|temp*|top|dome|that|you|over|under|above|this|there|fire|#)
    (when|before|after) (it|the|temp*|top|dome) (is|gets|get|hits|hit|reaches|reach|goes|rains|rain|starts|temp*|top|dome)
    (in case|suppose|supposing|assuming|imagine|would be|would it|will be|could be|might be|may be|should be|ought to be)
    (going|about|planning|want|wants|trying|hoping|hope|ready|need|needs|have|has|expecting|waiting|plan|like|how) to (be|get|reach|hit|go|do|light|add|put|stoke|start|close|put)
    (wait|waiting|hoping|looking|aiming|aim|heading|shooting|going) for
    (about|going|ready|happy|due) to (light|add|put|stoke|start|close|shut)
    (will|should|shall|would|could|might|may) (hit|reach|get|go|be|do|light|add|put|stoke|start|close|shut)
    i will (light|add|put|stoke|start|close|shut)
    """
)

TOLD = phrases(
    """
    (you|he|she|they|builder|plan|app|bot|manual|book|instructions|leaflet|video|guide|guy|who|mate|friend|neighbour*|someone|everyone|website|internet|google|youtube) .. (said|says|say|told|tell|wrote|reckons|reckon|recommends|wanted|want|wants)
    (target|aim|goal|limit|maximum|max|ceiling is|supposed|meant to|aiming|setpoint|plan is|should have|according)
    (not|never) (over|above|past|more|higher|exceed|go over)
    (do not|must not|should not|can not|never) (go|exceed|pass|let)
    (stay|keep|keeping|kept) .. (under|below|at)
    (last|previous|first|second|third|next) (fire|firing|burn|time|week)
    yesterday
    (my|the) (old|other|last|neighbour*|friend*|mate*) .. oven
    (pizza|pizzas|bread|roast|roasts) (at|is|needs|wants|cooks)
    (goes|rated|works|reads|measures|good) .. up to
    (only|just) (goes|go|reads|measures|works|does) to
    ^ (my|the|our|his|her) (neighbour*|neighbor*|friend*|mate*|brother|sister|cousin|uncle|colleague) [s|is|oven] (got|has|had|went|goes|gets|hit|hits|reached|runs|took|ran)
    """
)

# --- what was done, seen, heard -----------------------------------------------------------

LIT = phrases(
    """
    (lit|alight|lighted|ignition|ignited|kindled)
    (fire|it|she) is (going|on|burning|started|lit|away|roaring)
    (fire|it) (going|started|away) now
    (fire|oven) (started|going|on|burning)
    (started|starting|start|set|got) [up] (the|a|my|our|this|todays) [small|little|first|second|new] (fire|burn|firing)
    (have|just|i|we) (got|have) (it|fire|the fire) (going|lit|started|burning)
    (got|have) (it|her) (going|lit|burning)
    (got|have) (the|a|my) [small|little] fire (going|lit|started|burning)
    (put|set|struck|held) [a|the|my] match* [to]
    (matches|match) .. (lit|struck)
    (have|just) (started|light) (fire|it|now|her)
    ^ (started|we are lit|fire on|fire lit|burning now|we have fire|we have flames|we have a fire|we are off|away we go) $
    (started|starting) [the] (burn|firing) [at]
    i (light|lights|lit|lite) (it|fire|the fire)
    (kindling|paper|wood|sticks) (is|has|have) (caught|burning|going|lit|alight)
    (set|setting) fire to
    """
)
LIGHTING_WORD_OTHER = phrases(
    """
    (lit|light) up by
    (well|badly|dimly|poorly) lit
    not lit properly
    (start|starts|started|starting) (to|raining|snowing|drizzling|smoking|steaming|cracking|popping|pouring|sweating|dripping|clearing|dropping|rising|climbing|cooling)
    """
)
NOT_LIT = phrases(
    """
    (not|never) .. (lit|light|lighted|alight|started|start|caught|lighting)
    (will|would|does|did) not (light|catch|start|take|burn)
    (can not|could not) .. (light|lit|started|going|catch)
    (not|no) (lit|fire) [yet]
    no (fire|flame|flames) yet
    (not) .. (fire|it) .. (yet)
    (unlit|not going yet|still not lit|still cold not lit)
    (fire|it) (is) not (going|lit|started|alight)
    (trying|struggling|struggle) to (light|get it lit|start|get it going|get it to light)
    (still|only) (laying|building|stacking) .. (fire|kindling|wood)
    """
)
STOKE_VERB = (
    "(stoked|stoke|added|add|adding|put|putting|chucked|chuck|threw|throw|thrown|fed|feed|"
    "popped|pop|bunged|slung|lobbed|stuck|loaded|load|placed|gave|given|give|dropped|tossed|"
    "laid|shoved|whacked|topped up|refuelled|refueled|fuelled|fueled|reloaded|dropped in)"
)
STOKED = phrases(
    """
    (stoked|stoking|stocked it|refuelled|refueled|reloaded|restoked)
    (added|adding|add) .. (wood|log*|piece*|bit*|stick*|split*|fuel|more|another|it|some|any)
    (added|add) # [small|big|more|little|large|medium|thin|thick|dry|good]
    ^ [i|we|just|have|i have|we have|i just] added
    (put|putting|chucked|threw|thrown|popped|bunged|slung|lobbed|stuck|loaded|placed|tossed|shoved|whacked|dropped|laid|chuck|give|gave|fed|feed|given|throw|throwing|drop|dropping) .. (on|in|wood|log*|piece*|bit*|stick*|split*|fuel|more|another|billet*|chunk*|lump*|handful|armful)
    (put|putting|chucked|threw|popped|gave|fed) # (on|in|more|to|small|big|of)
    (fed|feed|gave) (it|her|fire|the fire|him)
    (topped|top|topping) (it up|up)
    (wood|log*|piece*|bit*|stick*|split*|more|another) .. (on|in|added|gone|went) (now|just|at|ago|#|there|the|fire)
    (wood|log*|piece*|bit*|stick*|split*|more|another) (is|are|have|has|just) [just] (on|in|gone)
    (another|more|#) [more|small|big|little|fresh|new|thin|thick|medium|good|dry] (wood|log*|piece*|bit*|stick*|split*|billet*|chunk*) [just|are|is|went|gone] (on|in|added|put|gone)
    (another|more) # (on|in)
    (another|more|#) (on|in|added) (now|just|ago|at|#)
    ^ [just|i have|have|have just|i just] (done|did|done it) [the] (stoke|stoking|wood)
    (wood|log*|fuel) (added|on|in) $
    (loaded|load|loading) [it|her|the oven|oven|the fire] (up|with)
    """
)
FIRE_OUT = phrases(
    """
    (fire|flame*|it|oven|embers|coals|ash*|everything|she|all) [is|has|have|are|just|all|s] [all|just|now|totally|completely|nearly|pretty much] (gone|went|go|goes|is|been|burnt|burned|going) out
    (fire|flame*|it|oven) (is|has|are|just) [just|now|completely|totally] (out|dead|died|finished|over|gone|extinguished)
    (fire|fires|flame*|it) (out|dead|died|gone)
    (fire|flame*|it) .. (burnt|burned|died) (out|down|away|itself out)
    (burnt|burned|died|dying|burning) (out|down|itself out|away|right down)
    (put|putting) (it|the fire|fire|her|flames) out
    (put|putting) out [the] fire
    (embers|coals|ash|ashes) only
    (settled|down|died|burnt|burned) [down] to [just] (embers|coals|ash)
    [only|just|all] (embers|coals|ash|ashes) (only|now|left|remain*)
    (only|just|all|down to) (embers|coals|ash|ashes)
    (no) (flame|flames|fire) (now|left|anymore|any more|at all|$)
    (let|letting) it (go|die) (out|down)
    (fire|it) (went|goes) out
    ^ (its|fire|all|all is|went|gone) out $
    (extinguished|doused|smothered)
    """
)
DOOR_ON = phrases(
    """
    (door|lid) [is|has|has been|been|now|just|back] [now|back|just|been|firmly] (on|shut|closed|in|fitted|up|in place|in the mouth)
    (shut|closed|put|fitted|close|placed|popped|stuck|pushed|shutting|closing|got|set) [up] [the|my|its] [insulated|wooden|steel|metal] (door|lid|mouth)
    (door|lid) (goes|gone|went|going) (on|in)
    (put|popped|got|stuck|set) [the|its|my] (door|lid) [back] (on|in|up)
    (blocked|closed|shut|sealed) [up|off] (the) (mouth|opening|entrance|oven|front)
    ^ (shut|closed) [it|up] (now|up|$)
    (oven|it) is (shut|closed|sealed)
    """
)
DOOR_OFF = phrases(
    """
    (door|lid) [is|has|has been|been|now|just|still] [now|just|been|still] (off|open|opened|out|removed|away|ajar|down|fell)
    (took|take|taken|taking|pulled|removed|remove|opened|open|opening|moved|lifted|got) [off] [the|my] (door|lid) [off|out|away|back|$]
    (took|taken|take) [the] (door|lid)
    no door [on]
    (door|lid) (fell|blew|came|comes) (off|open|down|over|out)
    (left|leaving|leave) [the] (door|lid) (off|open)
    (door|lid) not on
    """
)
CRACK = phrases(
    """
    (crack|cracks|cracked|cracking|craked|crackd|split in the|splits in the|fissure*|fracture*|crazing|crazed)
    (hairline|hairlines|hair line)
    (gap|gaps) .. (arch|dome|brick*|render|opening|opened|wall|door|flue|mortar)
    (opened|opening) up .. (arch|dome|brick*|render|wall|mortar|joint)
    (arch|dome|brick*|render|wall|mortar|joint|it) .. (split|splitting)
    """
)
CRACK_IS_SOUND = phrases(
    """
    (crack|cracked|cracking) (on|open|up|a beer|a bottle|a window|the door|the window|the lid|the beer*|job|team|good|great|into it)
    (crack|cracking|cracks) (good|fire|job|heat|day|noise*|sound*|wood|log*|sparks)
    (log*|wood|fire|sticks|kindling) [is|are] (crack*)
    """
)
HAIRLINE = phrases(
    """
    (hairline|hair line|hair|hairlines|tiny|small|fine|thin|little|minute|faint|baby|mini|wee|microscopic|surface|crazing|crazed|slight|narrow|barely)
    (can not|not) .. (finger*|nail|coin|credit card|card) .. (in|into)
    """
)
OPEN_CRACK = phrases(
    """
    (open|opened|opening|wide|wider|widening|widened|big|bigger|large|huge|deep|massive|growing|grown|gaping|spreading|serious|major|growing|longer|worse|chunky|thick|daylight|see through|gap|gaps)
    (can|could|fit*|get*|put*|stick*|slides|slid*|goes) .. (finger*|fingernail*|nail|coin|credit card|card|penny|pound) 
    (finger*|nail|coin|card|penny) .. (in|into|inside|fits)
    """
)
STEAM = phrases(
    """
    (steam|steaming|steams|steamy|vapour|vapor|water vapour)
    """
)
DAMP = phrases(
    """
    (damp|dampness|wet patch*|wet spot*|damp patch*|moist|moisture|sweating|sweaty|weeping|beads of water|water droplets|condensation|dark patch*|wet marks|water marks|wet area*|wet stain*|seeping)
    (dome|oven|render|brick*|wall|walls|outside|shell|arch|mortar|floor|side*|top) .. (wet|sweating|dripping|weeping|leaking)
    (water) .. (coming|dripping|running|oozing|seeping|pouring|drops|beads|beading|trickling|leaking|weeping) [out|down|from|through|of]
    (wet|dark) (patch*|spot*|bit*|ring|area|mark*|stain*)
    """
)
SMOKE = phrases(
    """
    (smoke|smoky|smoking|smokes|smoked out|smokin)
    """
)
FLUE_FLAMES = phrases(
    """
    (flame*|fire) .. (out of|out|up|in|inside|into|from|at|reaching|coming) .. (flue|chimney|chimny|chiminey|stack|pipe|cowl|stovepipe|funnel|vent)
    (flame*|fire) .. (out|up) [of] [the] [top] [of] [the] (flue|chimney|stack|pipe|cowl)
    (flue|chimney|stack|cowl|stovepipe) [is|has|caught|on] [on|got|caught] (fire|flame*|alight)
    (chimney|flue) fire
    (flue|chimney|stack|cowl|pipe) .. (flame*|glowing|red hot|on fire)
    """
)
POPPING = phrases(
    """
    (popping|pinging|banging|spalling|spalled|spall|flaking|flaked|flakes|exploding|exploded|spitting bits|bits falling)
    (pop|pops|popped|bang|bangs|ping|pings|crunch) (sound*|noise*|from|off|came|in the|loud|inside|again)
    (loud|hear*|big|few|some|lot of|sharp|making|heard a|heard) [a|loud|some|few] (pop|pops|bang|bangs|cracks and pops|ping|pings|popping|crunch)
    (bit*|chip*|chunk*|flake*|piece*|lump*|brick|mortar|plaster|render) [of] [the|brick|mortar|dome|refractory|render|face|hot face|my] .. (fallen|falling|fell|coming|came|come|breaking|dropped|broke|flew|peeling) [off|down|out|away]
    (mortar|brick*|dome|render|concrete|refractory) .. (crumbling|flaking|popping|peeling|spalling|falling|fallen|fell)
    (went|go|goes) (bang|pop)
    """
)
SOOT_CLEAR = phrases(
    """
    (soot|black|carbon) .. (clear*|gone|burnt off|burned off|burning off|vanish*|disappear*|burnt away|burned away|cleared|going|burnt|burned)
    (dome|bricks|top|crown|roof|inside|ceiling|oven|it) [is|has|are|all] [all|gone|turned|turning|now|going|gone all|just gone] [completely|nice and] (white|clear|clean|cleared|clearing)
    (gone|turned|turning|going) (white|clear|clean)
    (cleared|clearing) .. soot
    no [more] soot
    """
)
TOO_BIG = phrases(
    """
    (fire|it|flames|this|that) .. (too|way too|far too|bit too|very) (big|large|fierce|strong|much|hot|high|fast|wild)
    (too|way too|far too) (big|large|fierce|much fire|strong|much wood|many logs|much heat|much flame)
    (fire|it|flames) .. (huge|massive|enormous|raging|out of control|getting away|taken off|took off|roaring|going mad|going crazy|gone mad|inferno|monster)
    (getting|got|heating|rising|climbing|going) .. (too hot|too fast|too quick|too quickly|out of hand|a bit wild)
    (overdone|overcooked|overdid) (it|the fire|wood)
    (put|added|used|chucked) .. (too much|too many)
    """
)
LEAVING = phrases(
    """
    (need|have|got|going|must|gotta|want|ought|got) to (pop|nip|go|leave|run|head|dash|shoot|pick|collect|fetch|drive|step|attend|get back to work|be off|take)
    (need|have|must|going) .. (pop|nip|go|head|step|dash) (out|off|home|to|away|in|inside|shop*|work|now)
    (popping|nipping|heading|headed|stepping|going|running|dashing|off|leaving|driving) (out|off|home|inside|to the|to work|to shop*|away|in) [now|for|to|soon]
    ^ [i am|am|just|i will be|we are] (leaving|going|off|away|out) (now|soon|for|in|out|to|$)
    (i|we) [will|am|are|have|got|just] [just] (be|am|are) (away|gone|out|off) (for|now)
    (i|we) (am|are) (off|leaving|heading|going out|away)
    (pop|nip) (out|to|down|over|into)
    (called|call) away
    i (go|pop|leave) (out|away|now)
    (kids|school|son|daughter) (pick up|pickup|run)
    (fire|oven) (on|left) (its|it is) own
    leaving (it|the fire|fire|the oven|her)
    (left|leave) it (unattended|alone)
    (no one|nobody) (here|to watch|watching|with it)
    """
)
NOT_LEAVING = phrases(
    """
    (going|off|go) to (put|add|light|stoke|get wood|bed|check|measure|read|take|try|wait|do|start|be|close|shut|rain|open|give|say|use|let|make|have|cook|keep|stop|need)
    (have|need|want|got|ought) to (go) (again|on|up|higher|to #|over|down)
    (take|pick) (it|reading|readings|temp*|another|the temp*|up the temp*|a reading|photo*|pictur*)
    (go|going) (to bed|up|down|well|fine|ok|great|good|nicely|strong|out by itself)
    """
)
BACK = phrases(
    """
    (i am|we are|am|i have come|just got|got|i came|come) back [home|now|with|at|again|$]
    ^ back (now|home|again|here|at|$)
    ^ (home|here) (now|again)
    (back|home) (now|again) $
    (i am|we are|am) (here|home) [again|now|$]
    (returned|back from|back with (it|fire|the fire|the oven))
    """
)
NOT_BACK = phrases(
    """
    (back|be back|come back) (in|by|at|after|soon|later|tomorrow|for) [about] (#|an|a|half|soon|later|few|noon|tonight|tomorrow|lunch|dinner|while)
    (back) (wall|of|side|soon|later)
    (will|i will|not|going to|to) [be|come|get] back
    (ring|call|text|message|get|let) .. back
    (door|lid) back
    """
)
WOOD_OUT = phrases(
    """
    (run|ran|running|runs|we are|i am|clean|all) [clean|completely] out of [dry|the|good|small|any|my] (wood|log*|fuel|kindling|firewood)
    (no|not any) [more|dry] (wood|logs|firewood|fuel|kindling) [left|at all|anymore|any more|here|$|to]
    (wood|log*|firewood|fuel) [is|has|have|pile is|pile] [all|is|has|now|just|nearly] (gone|run out|finished|used up|ran out|out|over|empty|done)
    (used|burnt|burned) (all|up all|up) [of] [the|my] (wood|logs|firewood)
    (wood|logs) (wet|soaked|soaking|damp)
    (need|have) [to] (buy|get|order|find) [some] more (wood|logs|firewood)
    out of [dry|good|small] (wood|logs|firewood|kindling)
    """
)
STOP_NUDGES = phrases(
    """
    (stop|quit|cease|no more|enough|end) [the|with the|with|with these|these|all|sending] (nudge*|reminder*|messag*|ping*|notif*|text*|alert*|buzzing|asking|nagging)
    (stop|quit) (messaging|texting|pinging|reminding|nudging|nagging|bothering|asking|sending|notifying|alerting|buzzing|bugging) [me]
    (leave me alone|shut up|be quiet|pipe down|mute|unsubscribe|silence please|quiet please|leave me be|do not disturb|leave me in peace)
    (do not|please do not|not) (message|text|remind|nudge|ping|bother|disturb|ask|send|notify|alert|bug|write) [me|us|again|anymore|any]
    ^ [please|ok|just] (stop|quiet|enough) [please|now|it|$] $
    (switch|turn|turning) [the|them|these|it|your] [nudge*|reminder*|notif*|messag*|alert*] off
    (switch|turn) off [the|these|your] (nudge*|reminder*|notif*|messag*|alert*)
    ^ go away $
    (stop) [all|the|your] (these|messages|reminders)
    """
)
GREETING = phrases(
    """
    ^ (hi|hello|hey|hiya|hallo|howdy|ello|yo|heya|hola|bonjour|ciao|greetings|alright|ahoy|hullo|oi) [there|mate|again|bot|all|you|guys|everyone|$]
    ^ good (morning|afternoon|evening|day)
    ^ (morning|afternoon|evening|gday|good day) $
    """
)
THANKS = phrases(
    """
    (thanks|thank you|thankyou|cheers|ta|much appreciated|appreciate it|appreciated|thank|thanx|thks|grateful|nice one|merci|gracias|danke|grazie|legend|lifesaver)
    """
)
UNDO = phrases(
    """
    (undo|delete that|delete last|scrap that|ignore that|ignore last|ignore my last|disregard|forget that|cancel that|strike that|take that back|scratch that|cancel last|remove last|remove that|forget it|ignore the last|cancel the last|delete the last|remove the last)
    (wrong|mis) (number|entry|reading|button|one|figure|key)
    (that|last one|last) (was|is) (wrong|a mistake|an error|a typo|incorrect|not right|not true)
    (my|made a) (mistake|typo)
    (pressed|hit|tapped|sent|typed|clicked|pushed) .. (wrong|accident|mistake|by mistake|mistakenly|accidentally)
    ^ [sorry|oops] (mistake|typo|my bad|wrong) $
    ^ (oops|whoops) $
    (did not mean|not mean) .. (that|send|press|it)
    (by|a) mistake
    """
)
CORRECTING = phrases(
    """
    (sorry|oops|whoops|correction|meant|mean|typo|rather|no wait|wait no|actually|scrap that|scratch that|i mean|make that|should say|should read|should have said|mistyped)
    """
)
YES = phrases(
    """
    ^ (yes|yep|yeah|yea|yup|ya|yah|aye|yess|yesss|sure|ok|affirmative|absolutely|definitely|yeh|ye|yus|yass|righto|yip|yessir|of course|sounds good|will do|go ahead|yes please|oui|si|uh huh|mhm|gotcha|you bet)
    ^ (y|correct|indeed|right|exactly|done|certainly|roger|agreed|fine|perfect|great|good|cool|deal|alright|gladly|course|positive|true|got it|no problem|no worries|no prob|why not|go on|do it|all done|all good|i did|i have|it is|it did|i am|we are|i will|we did|we have|on it|understood|did that|done that|all right|makes sense|suits me|works for me|fine by me|works|ready|lovely|excellent|brilliant|super|noted|think so|i think so|yes i think so|looks good|looks fine|that is right|that is fine|that is ok|all fine|all ok) [now|then|with me|thanks|mate|it|that|will|here|too|already|too thanks] $
    """
)
NO = phrases(
    """
    ^ (no|nope|nah|na|nay|negative|noo|nooo|nein|non|nop|never|nae|naw|no way|not really|not at all|of course not|certainly not|afraid not|i did not|i have not|it is not|it did not|not at the moment|no thanks|no thank you|none|not me|i am not|not now|not today|i do not think so|do not think so|false|none at all|nothing)
    ^ (i can not|can not|could not|do not|i do not|did not|have not|it has not) $
    """
)
NOT_YET = phrases(
    """
    ^ [no|nope|nah] (not yet|not just yet|still not|not quite|not quite yet|not so far|nearly|almost|soon|no not yet|not ready|not ready yet|am not ready|not there yet) $
    ^ [no|nope|not] yet $
    """
)
LATER = phrases(
    """
    ^ [ask me|maybe|do it|remind me|tell me|i will do it|talk|will do|will do it|not now|ok|a bit|bit|little] (later|later on|afterwards|another time|in a bit|in a while|in a minute|in a sec|in a moment|in a mo|soon) [please|$]
    (remind|ask|nudge|ping|text|message|check|try|tell) [with] [me] [again|back] (later|in|after|at)
    (give|need|want) [me|us|it] [a|another|about|like|just|some] [few|couple|bit|little|extra|more|#] [more|of] (more|#|half|time|minutes|hours|minute|longer|moment|sec|second|mo|few)
    ^ (hang on|hold on|one sec|one moment|one minute|just a sec|just a minute|wait|wait a sec|wait a bit|bear with me|in a bit|in a min|give me a sec|half a mo|just a moment|a moment|hold up|busy|busy now|busy right now|shortly|snooze) [please|$]
    (few|couple) more minutes
    (not now) .. later
    # more minutes
    (snooze)
    ^ (later)
    """
)

# --- what is asked about --------------------------------------------------------------------

TOPICS: tuple[tuple[str, tuple[Pattern, ...]], ...] = (
    (
        "steam",
        phrases(
            "(steam*|vapour|vapor|moisture|damp*|sweat*|water coming|wet patch*|condensation|water|dripping|drips)"
        ),
    ),
    ("crack", phrases("(crack*|hairline*|fissure*|gap*)")),
    (
        "restrictions",
        phrases(
            """
            (legal|allowed|permit*|permission|restrict*|council|fire ban|bans|burn ban|regulation*|law|laws|smokeless zone|smoke control|insurance|fire brigade|fire department)
            (burn|fire) (ban|bans)
            """
        ),
    ),
    (
        "skip_day",
        phrases(
            """
        (skip|skipping|miss|missed|missing|postpone|delay|put off|move|reschedule|swap|break|pause) .. (day*|fire|firing|tomorrow|today|one|burn|session|monday|tuesday|wednesday|thursday|friday|saturday|sunday)
        (skip|skipping|postpone|reschedule)
        (day|days) off
        (do it|do) (another day|next week|tomorrow instead)
        (every|consecutive|in a row) day*
        (two|2) .. (in one day|same day|a day|in a day)
        """
        ),
    ),
    (
        "cooking",
        phrases(
            """
        (cook*|bake*|baking|pizza*|bread*|roast*|food|meal|dinner|supper|lunch|eat|chicken|steak*|lamb|grill*|focaccia|dough|loaf|loaves|party|bbq|barbecue)
        (use|using) (it|the oven)
        """
        ),
    ),
    (
        "leaving",
        phrases(
            """
        (leave|leaving|walk away|go out|unattended|alone|on its own|watch it|stay with|sit with|pop out|nip out|go to bed|overnight|go to sleep|babysit|go inside|go in|go to work|go away|stand there|stay here|stay there|be there|go shopping|go shop*|keep an eye)
        """
        ),
    ),
    ("door", phrases("(door|lid|mouth|close it|shut it|close it up|close the oven)")),
    ("smoke", phrases("(smok*|neighbour*|neighbor*|fumes|smell*|soot|chimney|flue|draft|draught)")),
    (
        "wood",
        phrases(
            """
        (wood*|oak|birch|beech|ash logs|pine|softwood|hardwood|kindling|pallet*|briquette*|charcoal|firewood|coal|species|seasoned|kiln*|logs from|fuel|lumpwood|olive|fruitwood|apple|cherry|treated|timber|firelighter*|petrol|lighter fluid|paraffin)
        (kind|type|sort|size|thick*|length|dry) .. (log*|split*|stick*)
        (log*|stick*) .. (dry|wet|thick|long|type|kind|use)
        """
        ),
    ),
    (
        "why_slow",
        phrases(
            """
        (why|how come|is it|is this|reason) .. (slow|slowly|long|many|so low|not rising|not climb*|not going up|days|stuck|small|not get*|taking|wait|waiting|not hot*|tiny|little)
        (so|too|this|very) (slow|slowly|long|low|small)
        (why) .. (wait|not|can not|hot*|bigger|faster|just)
        (stuck|not rising|not going up|not getting hot*|will not go up|will not get hot*)
        (speed|hurry|rush|faster|quicker) [it|this|things|up]
        (just|not) .. (big fire|full fire|get it hot)
        """
        ),
    ),
    (
        "fire_size",
        phrases(
            """
        (fire|flame*|it|this|that) .. (too|big|bigger|small|smaller|size|enough|right|large|strong|fierce|hot|ok|normal|alright|good|high)
        (how|too|more) (big|small|much|many|large|hot)
        (add|put|throw|stoke|chuck) .. (more|wood|log*|another|piece*|some|bit*)
        (more|another) (wood|log*|piece*|bit*)
        (too|is it|is this|is that) (hot|high|big|low|fast|quick)
        (spread|move|rake|push) .. (fire|ember*|coal*|it)
        (let|leave) .. (die|burn|go out|burn down)
        (reduce|lower|slow) .. (fire|it|temp*|heat)
        """
        ),
    ),
    (
        "reading",
        phrases(
            """
        (thermometer|infrared|ir gun|temperature gun|laser|measure*|reading*|probe|gun|point it|aim it|thermocouple|where do i (point|aim)|emissivity)
        (what|which|how hot) .. (temp*|degrees|hot|#)
        (temp*|it) .. (be|right|normal|ok|good|reach)
        (where|how) .. (read|measure|point|aim|check)
        """
        ),
    ),
    (
        "weather",
        phrases(
            "(rain*|weather|wind*|storm*|wet|frost*|cold|snow*|forecast|sun|cover it|cover|tarp*|gust*|freez*|showers|humid*)"
        ),
    ),
    (
        "lighting",
        phrases(
            "(light*|lit|start the fire|start it|start the first|start fire|start a fire|kindle|lay the fire|lay it|build the fire|build a fire|matches|match)"
        ),
    ),
    (
        "plan",
        phrases(
            "(fires left|fires are left|firings left|days left|plan|schedule|how many (fires|days|more|firings)|how long .. (take|last|whole|left|until|till|finish*|process|cure|curing|go)|days left|when .. (finished|done|ready|finish|over)|how far|progress|left to go|programme|program|calendar|curing|cure)"
        ),
    ),
    (
        "next",
        phrases(
            """
        (next|what now|now what|what do i|what should i|what shall i|what to do|when do i|when should i|when is|what is happening|how long|am i doing|doing it right|doing ok|going ok|ok so far|what happens|when can i|when will)
        (what) .. (do|now)
        """
        ),
    ),
)
QUESTION_FIRST: tuple[tuple[str, tuple[Pattern, ...]], ...] = (
    (
        "wood",
        phrases(
            """
            (moisture|dry|wet|damp|seasoned|green|kiln) .. (wood|log*|timber|firewood)
            (wood|log*|timber|firewood) .. (moisture|dry|wet|damp|seasoned)
            """
        ),
    ),
    (
        "cooking",
        phrases("(can i|can we|could i|ok to|may i) .. (cook*|bake|pizza*|bread|roast|eat)"),
    ),
    (
        "plan",
        phrases(
            "(how many|how much) .. (fires|firings|burns|days|longer) .. (left|more|to go|need*|go|$)"
        ),
    ),
    (
        "fire_size",
        phrases(
            """
            (should|shall|do|can|could|must|when|how many|how much|need) .. (add|put|throw|stoke|chuck) .. (wood|log*|piece*|bit*|more|another|some)
            (how much|how many) [more] (wood|log*|pieces|bits|sticks)
            (add|put|throw|chuck) (more|another)
            """
        ),
    ),
)

# --- sky ------------------------------------------------------------------------------------

SKY: tuple[tuple[str, tuple[Pattern, ...]], ...] = (
    (
        "soaked",
        phrases(
            """
        (soaked|drenched|saturated|sodden|waterlogged|got wet|get wet|gotten wet|is wet through|wet through|soaking|flooded)
        (rain|water) .. (got|came|come|getting|gets|leaked|blew|blown|went) (in|into|through|inside|under|on)
        (cover|tarp*|sheet) .. (blew|blown|came|off|leaked|leaking|slipped|fell)
        (left|forgot|without) .. (uncovered|cover|covered|out in the rain|tarp)
        (rained|raining) (on|in) (it|the oven|oven|my oven|the dome|dome|into)
        """
        ),
    ),
    (
        "gale",
        phrases(
            """
        (gale|gales|gale force|storm|stormy|hurricane|storm force|howling|blowing a gale|tornado|blowing a hooley|hooley)
        (very|really|extremely|super|crazy|dead|well|so|mega|insanely) (windy|strong wind*|gusty|high wind*)
        (strong|high|fierce|massive|crazy|terrible) (wind|winds|gust*)
        """
        ),
    ),
    ("snow", phrases("(snow|snowing|snowy|snows|sleet|sleeting|snowed|blizzard)")),
    (
        "frost",
        phrases(
            """
        (frost|frosty|freezing|frozen|ice|icy|freeze|froze|below zero|sub zero|subzero|below freezing|minus #)
        """
        ),
    ),
    (
        "rain",
        phrases(
            """
        (rain|raining|rained|rains|rainy|drizzle|drizzling|drizzly|pouring|showers|shower|showery|downpour|tipping it down|bucketing|chucking it down|hammering down|lashing|spitting|wet weather|thunderstorm|thunder|hail|hailing|tipping down|pelting|throwing it down|precipitation|raindrops|mizzle|heavens have opened|heavens opened)
        (wet|wet out|wet outside|wet day|wet one|wet all) (day|today|tomorrow|outside|out|here|all day|now|monday|tuesday|wednesday|thursday|friday|saturday|sunday|tonight|week|weekend|this)
        (be|going to be|looks|looking|forecast|is) wet (today|tomorrow|monday|tuesday|wednesday|thursday|friday|saturday|sunday|tonight|all|now|on|outside|$)
        """
        ),
    ),
    (
        "wind",
        phrases(
            """
        (wind|windy|gusty|gust|gusts|breezy|breeze|blowy|blustery|gusting|draughty outside)
        blowing (hard|a lot|strong*|from)
        """
        ),
    ),
    (
        "heat",
        phrases(
            """
        (heatwave|heat wave|scorching|boiling hot day|roasting hot day|sweltering|hot day|very hot out|hot outside|scorcher)
        """
        ),
    ),
    (
        "dry",
        phrases(
            """
        (dry|sunny) (day|weather|out|outside|today|now|tomorrow|again|here|spell|week|weekend|morning|afternoon|evening)
        (fine|clear|nice) (weather|spell|out|outside)
        (stopped|stop|stops|finished|done|no longer|quit|not) (raining|rain|drizzling|pouring)
        (rain|shower|showers|drizzle|it|storm) (has|is|have) [now|just|all] (stopped|gone|over|passed|cleared|eased|finished|blown over|moved on)
        (rain|shower|drizzle) (stopped|gone|over|passed|cleared|eased off|finished)
        (sunny|sun is out|sun is shining|sunshine|blue sky|blue skies|dried up|brightened up|clearing up|no clouds|stays dry|staying dry|bone dry|dry as)
        (has|have|did|does|is) not [really|actually] (rained|raining|rain)
        (no|not any) [more] (rain|showers|drizzle) [at all|here|now|today|yet|so far|overnight|last night|$]
        (is|it is|still|all) [still|all|nice and] dry [now|here|still|again|$]
        ^ dry [now|here|still|again|$]
        """
        ),
    ),
)
SKY_IS_OTHER = phrases(
    """
    (wind|wound) (down|up|it up)
    (second|get my) wind
    (smoke|flame*|sparks) .. wind
    (break|breaking) (the ice|wind)
    (rain|shower) (coat|jacket|check|cover|water butt|barrel)
    (had|have|having|take|taking|took|need|in|quick) (a|the|my) shower
    (frozen|freezing) (pizza*|food|dough|chips|peas|my|me|here|out here)
    (ice) (cream|cold|pack|on|cubes|water)
    (storm) (in a|of)
    """
)

# --- days -----------------------------------------------------------------------------------

CANNOT = phrases(
    """
    (can not|could not|will not|shall not|not able|unable|not going to be able|will not be able|not possible|no can do|no good|not good|not free|not available|unavailable|not around|not here|not home|not in|busy|away|working|at work|no chance|out of town|on holiday|on holidays|holiday|vacation|on vacation|not doing|no fire|no firing|not firing|have plans|got plans|got work|have work|have a wedding|have guests|wedding|funeral|party|booked|travelling|traveling|abroad|no go|is out|not work|does not work|does not suit|not convenient|not suit|rule out|skip|skipping|off limits|on shift|night shift|not around|gone|out all day|out)
    """
)
CAN = phrases(
    """
    (can do|could do|can|free|available|let us do|let us|do it|make it|how about|what about|works|suits|suit|prefer|rather|move it to|move to|switch to|change to|swap to|instead|works for me|is good|is fine|is ok|good for me|off work|got the day off|have the day off|home all day|around|at home|i am in|day off|ok for me|best|would like|want to do|want to fire|wanna fire|will do|fire it|fire on|light it|light on|aim for|go for|push to|shift to|postpone to|postpone until|leave it until|leave it till|leave it to|put it off until|put off to|possible|yes)
    """
)
ONLY = phrases("(only|just)")

# --- danger ---------------------------------------------------------------------------------

UNWELL = phrases(
    """
    (dizzy|dizziness|lightheaded|light headed|light-headed|faint|fainting|fainted|fainty|woozy|nauseous|nausea|nauseated|queasy|vomiting|vomited|vomit|headache|headaches|migraine|unconscious|passed out|passing out|collapsed|collapsing|collapse|drowsy|disorientated|disoriented|poisoning|poisoned|giddy|wobbly|groggy)
    (head|my head) (aches|ache|aching|hurts|hurt|hurting|pounding|spinning|swimming|banging|is pounding|is spinning|is hurting|is banging|is swimming|is sore|throbbing|is throbbing|is aching)
    (feel|feeling|feels|felt|am|is|being|been) [a|very|really|so|bit|a bit|quite|kind of|pretty|little|a little|all|not] (sick|ill|unwell|poorly|rough|queasy|funny|weird|strange|faint|bad|awful|terrible|nauseous|confused|sleepy|wobbly|weak|giddy|woozy|not well|not good|not right|crook|dreadful)
    (do not|not|does not) (feel|feeling) [very|too|so|really|at all|all that] (well|good|great|right|ok|myself)
    (been|being|was|got|going to be|gonna be|i am|he is|she is) (sick|ill|hurt|injured)
    (threw|throwing|throw|thrown) up
    (sick|unwell|poorly)
    (burnt|burned|burn|burning|scalded|scald|singed|blistered|hurt|injured|scorched|seared|cut) [of|on] (my|myself|his|her|me|hand*|the kid*|our|finger*|arm*|the child*|daughter*|son|himself|herself|leg*|face|eye*|the dog|a finger|a hand|their|someone|wife|husband)
    (my|his|her|the) (hand*|finger*|arm*|face|leg*|foot|thumb|palm|wrist|skin|hair|eyebrow*|sleeve|clothes|shirt|jacket|glove*) [is|are|has|got|have|was|were|all|really] [a|been|on|got|really|caught] (burnt|burned|burn|burning|burns|scalded|blister*|on fire|hurt*|fire|stinging|red|injured|singed)
    (got|have|has|with|had|bad|nasty|serious|small|little) [a|some] [bad|nasty|small|little|serious|big|slight|minor] (burn|burns|blister|blisters|scald) [on|from|to|$]
    burn (on|to) (my|his|her|the) (hand*|finger*|arm*|face|leg*)
    (burnt|burned) (myself|me|himself|herself)
    (i|he|she|dog|cat|kid*|child*|son|daughter|wife|husband|baby|friend|neighbour*|mum|dad) (got|is|was|has been|been|has) [badly|a bit] (burnt|burned|scalded|injured|hurt)
    (co|carbon|monoxide|smoke|gas|fire) [monoxide] (detector|alarm*|meter|sensor) [is|has|just|keeps|keep] [is|has|keeps|started|just|been|gone|now|went] (alarm*|going|goes|went|gone|beep*|sound*|ring*|bleep*|chirp*|screaming|triggered|shrieking|warning|shouting|detected|blaring|peeping)
    (carbon monoxide|monoxide|co) (alarm|detector|poison*|warning|leak)
    (alarm|alarms|detector) [is|has|just|keeps] (going|gone|went|sounding|ringing|beeping|screaming|goes|blaring|bleeping|triggered) [off|$]
    (can not|could not|hard to|trouble|difficult to|struggling to|difficulty|short of|shortness of|out of) (breathe|breath|breathing)
    (chest) .. (pain*|tight|hurt*)
    (pain|pains|ache) .. (head|chest|stomach|tummy|lungs|hand|arm)
    (head|chest|stomach|lung|lungs) (pain|pains|ache)
    (confused and|very confused|eyes are burning|eyes burning|eyes are stinging|eyes sting*|choking|suffocat*|wheezing|can not stop coughing|coughing a lot|cough* badly|inhaled|breathed in)
    (ambulance|999|911|112|paramedic*|hospital|emergency|fire brigade|fire engine|fire department)
    (house|roof|shed|fence|grass|garden|tree|hedge|deck|decking|garage|gazebo|pergola|awning|neighbour*|lawn|field|bush|bushes|lean to|shelter|tarp*|cover|car|barn|leaves|thatch|woodpile|wood pile|wood store|log store|porch|table|stand|bench|trousers|sleeve|shirt|coat|clothes|hair|jacket|dress) [is|has|just|are|s|has just] (on fire|caught fire|caught|burning|alight|catching|in flames|ablaze|set alight|going up|catching fire|smouldering)
    (fire|flame*|it) [is|has] (spreading|spread|escaped) [to|into|out|across|$] [the|my|our] [house|roof|shed|fence|grass|garden|tree|hedge|deck|neighbour*|$]
    (set|caught) .. (house|roof|shed|fence|grass|garden|tree|hedge|deck|garage) [on|a] (fire|alight|light)
    (help me|help help|please help me|sos|mayday)
    (i|he|she|wife|husband|son|daughter|kid|child) .. (burnt|burned|scalded|collapsed|fainted|unconscious|injured) [his|her|my|on|the|$]
    (carbon monoxide|monoxide)
    """
)
NOT_UNWELL = phrases(
    """
    (sick|ill) of
    (nobody|no one|noone|none of us) .. (dizzy|sick|unwell|ill|hurt|headache*|burnt|burned|injured|faint*)
    (no|not|never|without|nobody|none|zero) [a|any|feel|feeling|feeling at all|got|get|getting|the|at all|have|had|even|so far|longer|more] [a|any|remotely|bit|at all|kind of] (dizzy|dizziness|headache*|sick|sickness|nause*|unwell|ill|faint*|burn|burns|carbon monoxide|co|injur*|hurt|symptoms|vomit*|light headed|lightheaded|poorly|queasy|drowsy|blister*|migraine*|confused|carbon|emergency|hospital|ambulance|monoxide|collapse*|alarm*|woozy)
    (have|has|got|bought|buy|fitted|installed|install|need|tested|test|there is|is there|put up|ordered|get|own|battery|batteries|new|check) .. (co|carbon monoxide|monoxide|smoke|carbon|monoxide) [monoxide] (alarm*|detector*|monitor)
    (sick) (oven|fire|mate|dude|bro|setup|day)
    (what|how) .. (is|about|dangerous|does|danger) carbon monoxide
    (is|about) carbon monoxide
    (faint) (crack*|line*|hairline|smell|smoke|steam|glow|mark*|trace*|wisp*)
    (burn|burning|burnt|burned) (the|my) (pizza*|bread|wood|log*|food|dinner|toast|cake|soot|paper|kindling|last|first)
    (alarm|alarms) (clock|set)
    set [an|my|the|a] alarm
    (drop|dropping|dropped) off
    (confus*) (by|about|with)
    """
)

# --- temperatures ---------------------------------------------------------------------------

PLACES: dict[str, str] = (
    dict.fromkeys(
        ["top", "tops", "crown", "dome", "roof", "ceiling", "apex", "keystone", "peak"], "top"
    )
    | dict.fromkeys(
        [
            "side",
            "sides",
            "left",
            "right",
            "wall",
            "walls",
            "back",
            "rear",
            "flank",
            "flanks",
            "lh",
            "rh",
        ],
        "sides",
    )
    | dict.fromkeys(
        ["hearth", "floor", "base", "bottom", "sole", "deck", "stone", "tiles"], "hearth"
    )
    | dict.fromkeys(
        [
            "arch",
            "mouth",
            "entrance",
            "flue",
            "chimney",
            "door",
            "shell",
            "outside",
            "outer",
            "render",
            "exterior",
            "air",
            "ambient",
            "outdoors",
            "weather",
            "forecast",
            "water",
            "room",
            "kitchen",
            "house",
            "fridge",
            "body",
            "fever",
            "handle",
            "face",
            "front",
            "vent",
            "ash",
            "embers",
            "coals",
            "flame",
            "flames",
            "fire",
            "stack",
            "pipe",
            "landing",
            "cladding",
            "insulation",
            "vault",
            "garden",
            "meat",
            "probe",
            "core",
            "chicken",
            "dough",
            "battery",
            "phone",
        ],
        "other",
    )
)
UNITS: dict[str, str] = {"c": "C", "celsius": "C", "f": "F", "fahrenheit": "F"}
DEGREES = frozenset(["degrees", "°"])
ABOUT = frozenset(
    [
        "about",
        "around",
        "nearly",
        "almost",
        "approximately",
        "say",
        "maybe",
        "ish",
        "probably",
        "somewhere",
        "ca",
        "roughly",
        "near",
        "approaching",
        "near",
        "enough",
        "circa",
    ]
)
FRIENDLY_BEFORE = frozenset(
    [
        "yup",
        "nope",
        "nah",
        "yeah",
        "change",
        "jumped",
        "leapt",
        "shot",
        "crept",
        "went",
        "going",
        "tops",
        "fire",
        "she",
        "he",
        "indicates",
        "indicating",
        "marks",
        '"',
        "is",
        "are",
        "at",
        "to",
        "reads",
        "read",
        "reading",
        "readings",
        "says",
        "shows",
        "showing",
        "now",
        "about",
        "around",
        "nearly",
        "almost",
        "just",
        "only",
        "still",
        "got",
        "get",
        "getting",
        "hit",
        "hits",
        "reached",
        "reaching",
        "reach",
        "temperature",
        "degrees",
        "currently",
        "already",
        "up",
        "risen",
        "dropped",
        "down",
        "climbed",
        "climbing",
        "rising",
        "falling",
        "cooling",
        "it",
        "was",
        "say",
        "maybe",
        "probably",
        "of",
        "back",
        "near",
        "gone",
        "went",
        "sitting",
        "steady",
        "holding",
        "ok",
        "yes",
        "yep",
        "yeah",
        "hi",
        "hello",
        "hey",
        "so",
        "well",
        "today",
        "here",
        "be",
        "says",
        "measured",
        "measuring",
        "registering",
        "thermometer",
        "gun",
        "laser",
        "max",
        "peak",
        "been",
        "to",
        "on",
        "into",
        "roughly",
        "gives",
        "gave",
        ":",
        "=",
        ",",
        "-",
        ".",
        "(",
        "/",
        "and",
        "-",
        ">",
        "sorry",
        "meant",
        "mean",
        "actually",
        "then",
        "update",
        "oven",
        "all",
        "hmm",
        "um",
        "uh",
        "er",
        "erm",
        "like",
        "thing",
        "roughly",
        "approaching",
        "by",
        "past",
        "passing",
        "exactly",
        "bang",
        "stuck",
        "hovering",
        "showed",
        "see",
        "seeing",
        "i",
        "we",
        "have",
        "has",
        "measure",
        "dropping",
        "cooled",
        "come",
        "came",
        "good",
        "fine",
        "great",
        "right",
        "wow",
        "thats",
        "that",
        "ah",
        "oh",
        "right",
        "morning",
        "evening",
        "afternoon",
        "this",
        "number",
        "display",
        "instrument",
        "level",
        "heat",
        "hot",
        "pretty",
        "quite",
        "even",
        "check",
        "checked",
        "check:",
        "result",
        "answer",
        "value",
        "makes",
        "make",
        "correction",
        "oops",
        "first",
        "no",
        "wait",
        "make",
        "that",
        "average",
        "mean",
        "reading:",
        "ir",
        "infrared",
        "slowly",
        "quickly",
        "fast",
        "finally",
        "just",
        "think",
        "again",
        "inside",
        "+",
        "@",
        "#",
        ">",
        "about",
    ]
)
FRIENDLY_AFTER = frozenset(
    [
        "(",
        '"',
        "now",
        "degrees",
        "at",
        "on",
        "for",
        "in",
        "ish",
        "or",
        "and",
        "so",
        ",",
        "-",
        ")",
        "but",
        "it",
        "is",
        "i",
        "we",
        "still",
        "ok",
        "steady",
        "right",
        "roughly",
        "then",
        "already",
        "thats",
        "that",
        "thanks",
        "thank",
        "cheers",
        "yes",
        "what",
        "shall",
        "should",
        "can",
        "is",
        "rising",
        "climbing",
        "falling",
        "dropping",
        "going",
        "holding",
        "here",
        "from",
        "the",
        "top",
        "approximately",
        "approx",
        "about",
        "when",
        "up",
        "down",
        "today",
        "currently",
        "exactly",
        "there",
        "just",
        "too",
        "mate",
        "hello",
        "hi",
        "please",
        "again",
        "again.",
        "a",
        "bit",
        "little",
        "smoke",
        "no",
        "not",
        "with",
        "after",
        "this",
        "all",
        "good",
        "looking",
        "looks",
        "getting",
        "slowly",
        "fast",
        "hot",
        "cold",
        "finally",
        "well",
        "inside",
        "reading",
        "max",
        "according",
        "thermometer",
        "gun",
        "do",
        "how",
        "steam",
        "fire",
        "flame",
        "flames",
        "everything",
        "nice",
        "nicely",
        "oven",
        "also",
        "only",
        "there's",
        "+",
        "celsius",
        "fahrenheit",
    ]
)
TALK_NOUNS = frozenset(
    [
        "people",
        "guests",
        "friends",
        "kids",
        "pizzas",
        "euros",
        "pounds",
        "dollars",
        "quid",
        "bucks",
        "bricks",
        "page",
        "pages",
        "model",
        "number",
        "serial",
        "version",
        "chapter",
        "year",
        "years",
        "birthday",
        "old",
        "street",
        "road",
        "flat",
        "postcode",
        "zip",
        "phone",
        "call",
        "room",
        "channel",
        "pm",
        "am",
        "percent",
        "bar",
        "psi",
        "litres",
        "liters",
        "watts",
        "volts",
        "miles",
        "likes",
        "messages",
        "times",
    ]
)
OVERLOAD = phrases(
    """
    ^ [it|it is|top|thermometer|gun|reading|says|shows|display|just|now|screen|it just] .. (ol|o l|err|error|overload|over range|overrange|out of range|hi hi|lo|e1|e2|---|--|----|over limit)
    (says|shows|showing|reads|displays|reading|gives|display|screen) [just|only|me] (ol|err|error|hi|high|lo|--|---|----|-|overload|blank|nothing|max)
    (off the scale|off scale|maxed out|beyond range|past the range|above its range|over its limit|out of range|over range|too hot to read|too hot for the gun|too hot for the thermometer)
    ^ (ol|err|error|-|--|---|----) $
    """
)
VAGUE_HEAT = phrases(
    """
    ^ [it is|top is|it|still|very|really|quite|pretty|too|so|now|getting|warm and|bloody|flipping] [is|very|really|pretty|still|quite|bloody] (hot|warm|cold|cool|boiling|scorching|red hot|roasting|toasty|lukewarm|hotter|cooler) [now|to touch|to the touch|still|enough|already|$]
    ^ (same|same as before|same as last time|same again|no change|unchanged|as before|no different|still the same|about the same|same temp*|same reading|steady|ditto|it is the same|the same|no difference)
    (same|unchanged) (as|since) (before|last|earlier)
    """
)

# --- what only sounds like it ---------------------------------------------------------------

IF = phrases(
    """
    (if|unless|suppose|supposing|in case|imagine|should)
    what (happens|happen) when
    (when|once|until|till) (it|i|we|the)
    """
)
OVER_NOW = phrases(
    """
    ^ [is|has|have|are|all|now|just|only|finally|pretty much|nearly|almost] [all|now|just|finally|pretty much|mostly] (stopped|gone|cleared|finished|vanished|disappeared|done|went away|passed|died down|ended)
    ^ [is|has|have|are|all|now|just] over [now] $
    (anymore|any more) $
    ^ (free|less)
    """
)
SAME_AGAIN = phrases(
    "(is|are) (it|that|this|they|these|those) (ok|normal|alright|fine|bad|safe|right|too|good|enough|serious|dangerous|a problem|a worry|expected|usual)\n^ (ok|normal|alright|right|good|fine|enough|safe|bad) $"
)
DAMP_IS_OTHER = phrases(
    """
    (wood|log*|kindling|firewood|grass|lawn) .. (damp|moist|wet)
    (damp|moist|wet) (wood|log*|kindling|firewood|grass|lawn|cloth|rag|towel|sand)
    """
)
SMOKE_IS_OTHER = phrases(
    """
    smoke (alarm|detector|free)
    """
)
THANKS_IS_OTHER = phrases(
    """
    ta (dah|da)
    """
)
FIRE_OUT_IS_OTHER = phrases(
    """
    (smoke|flame*) .. out of
    (flame*|fire) .. (out of|up) .. (flue|chimney|stack|pipe|mouth|door)
    (burnt|burned|burn) out (of|bulb|log)
    i am [so|totally|completely] (burnt|burned) out
    not out yet
    """
)
STOKED_IS_OTHER = phrases(
    """
    (door|lid|cover|tarp*|gloves|kettle|photo*|pizza*|bread|coat|light|lights|sheet|blanket|insulation|render|plaster|paint) .. (on|in|over)
    (put|got|getting|give|gave|add|added) .. (feet up|to bed|it down|photo|picture|coat|note|water)
    (put|putting) .. out
    (i|we) (will|am going to|can|should|could|might) [now|just|soon] (put|add|chuck|throw|stoke)
    (run|ran|no|out) .. (wood|logs)
    (give|gave) (me|us) another
    (dropped|drop|dropping|popped) [down|off|back] a (bit|little) (to|from|now|since|$)
    """
)
BACK_LATER = phrases(
    """
    (back|be back|come back|home) (in|by|at|after|soon|later|tomorrow|for)
    """
)
WIDTH_MM = re.compile(r" (\d[\d.,]*) (mm|cm|millimet\S*|centimet\S*) ")
EVENINGS = phrases(
    "(evening|evenings|nights|after work|after school|after tea|after dinner|late afternoon*)\n(after|from) # [pm|o'clock]"
)
MORNINGS = phrases(
    "(morning|mornings|before work|before lunch|before noon|before midday)\n(before|until|till) # [am|o'clock]"
)
WHAT_IF = phrases("what (if|happens|happen|about|do)")
WISHED = phrases("(instead|let us|how about|what about)")
