"""A page whose order of events a test decides: replies and files are held until they are let go."""

# `window.holds` says which requests have their replies held; `window.slow` holds the names of the
# files that take long to be read.
HOLD = """
    window.holds = () => false;
    window.asked = [];
    window.held = [];
    window.slow = [];
    window.reads = {};
    const requests = new Map();
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (data, ...rest) {
        if (data?.kind === "request") {
            requests.set(data.id, JSON.parse(data.text));
            window.asked.push(requests.get(data.id).kind);
        }
        return post.call(this, data, ...rest);
    };
    const { get, set } = Object.getOwnPropertyDescriptor(Worker.prototype, "onmessage");
    Object.defineProperty(Worker.prototype, "onmessage", { get, set(listener) {
        set.call(this, (event) => {
            const request = event.data?.id && requests.get(event.data.id);
            const go = () => listener.call(this, event);
            if (request && window.holds(request)) window.held.push([request.kind, go]);
            else go();
        });
    } });
    const read = Blob.prototype.arrayBuffer;
    Blob.prototype.arrayBuffer = function () {
        if (!window.slow.includes(this.name)) return read.call(this);
        return new Promise((resolve, reject) => {
            window.reads[this.name] = (error) => error ? reject(error) : resolve(read.call(this));
        });
    };
"""


def hold(page, kinds):
    """Hold the replies to requests of these kinds."""
    page.evaluate("(kinds) => void (window.holds = ({ kind }) => kinds.includes(kind))", kinds)


def hold_from_the_start(page, kinds):
    """Hold them before the page asks for anything."""
    page.add_init_script(f"window.holds = ({{ kind }}) => {kinds!r}.includes(kind);")


def let_go(page):
    """Let what is held go, in its order, and hold nothing more."""
    page.evaluate(
        """() => {
            window.holds = () => false;
            for (const [, go] of window.held.splice(0)) go();
        }"""
    )


def read_file(page, name):
    """Let a slow file be read."""
    page.evaluate("(name) => window.reads[name]()", name)


def fail_file(page, name):
    """Let a slow file be one that cannot be read."""
    page.evaluate("(name) => window.reads[name](new Error('it is gone'))", name)
