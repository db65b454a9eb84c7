// The sentence spoken aloud, when asked for (Web Speech API).

export function makeVoice(button) {
  const speech = window.speechSynthesis;
  if (!speech) {
    button.hidden = true;
    return { say() {}, add() {} };
  }
  // A browser may have the means to speak but no voice.
  const offer = () => { button.hidden = !speech.getVoices().length; };
  speech.addEventListener('voiceschanged', offer);
  offer();
  let on = false, last = '';
  const utter = (text) => { const u = new SpeechSynthesisUtterance(text); u.lang = 'en'; u.rate = 0.95; speech.speak(u); };
  button.addEventListener('click', () => {
    on = !on;
    button.setAttribute('aria-pressed', on);
    speech.cancel();
    if (on && last) utter(last);
  });
  return {
    say(text) { last = text || ''; if (on && last) { speech.cancel(); utter(last); } },
    add(text) { if (on) utter(text); },
  };
}
