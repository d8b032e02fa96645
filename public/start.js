// Starts the page from the WebAssembly it carries inside itself, or says in a sentence why it cannot.
// Written for browsers older than those that can run the page, so that they too get the sentence.
(function () {
  'use strict';
  var status = document.getElementById('status');
  var started = false;

  function fail(sentence) {
    status.textContent = sentence;
    status.className = 'status failed';
    status.hidden = false;
    document.body.setAttribute('data-failed', '');
  }

  // After a panic the page stands still; that must not look like a page that works.
  function failLater(error) {
    if (typeof WebAssembly === 'object' && error instanceof WebAssembly.RuntimeError) {
      fail('Cornerwise has stopped because of a fault of its own. Reload the page to go on.');
    }
  }

  addEventListener('error', function (event) {
    if (started) failLater(event.error);
  });
  addEventListener('unhandledrejection', function (event) {
    if (started) failLater(event.reason);
  });

  if (typeof WebAssembly !== 'object') {
    fail('Cornerwise computes with WebAssembly, which this browser does not have or has switched off.');
    return;
  }
  if (
    typeof DecompressionStream !== 'function' ||
    typeof unpack !== 'function' ||
    !('adoptedStyleSheets' in document)
  ) {
    fail('This browser is too old for Cornerwise. Any browser from 2023 or later opens it.');
    return;
  }

  function letters(name) {
    return document.getElementById(name).textContent;
  }

  function bytes(name) {
    var text = atob(letters(name));
    var bytes = new Uint8Array(text.length);
    for (var i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
    return bytes;
  }

  // The page's module is packed more strongly than browsers unpack by themselves, and what
  // unpacks it as strongly as they do.
  function unpacker() {
    var stream = new Blob([bytes('unpack')]).stream().pipeThrough(new DecompressionStream('deflate-raw'));
    return new Response(stream, { headers: { 'content-type': 'application/wasm' } });
  }

  // Style sheet and glue are packed like the module.
  function unpacked(name) {
    return new TextDecoder().decode(unpack.unpack(letters(name)));
  }

  function dress() {
    var sheet = new CSSStyleSheet();
    sheet.replaceSync(unpacked('style.css'));
    document.adoptedStyleSheets = [sheet];
  }

  // Runs at once, and sets the name `wasm_bindgen`.
  function glue() {
    var script = document.createElement('script');
    script.textContent = unpacked('glue');
    document.head.appendChild(script);
  }

  // A promise first, so that what fails at once is caught like what fails later.
  Promise.resolve()
    .then(function () {
      return unpack({ module_or_path: unpacker() });
    })
    .then(function () {
      dress();
      glue();
      return wasm_bindgen({ module_or_path: unpack.unpack(letters('wasm')) });
    })
    .then(
      function () {
        started = true;
        status.hidden = true;
        // Milliseconds since the page was asked for.
        document.body.setAttribute('data-started', Math.round(performance.now()));
      },
      function (error) {
        console.error(error);
        fail('Cornerwise could not start: ' + (error && error.message ? error.message : error));
      }
    );
})();
