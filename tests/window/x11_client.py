"""A very small X11 client: drops files on a window (XDND version 5) and asks a window to close (WM_DELETE_WINDOW).

Speaks the X protocol itself, so that a test needs no more than Python. The numbers are those of the X Window System
Protocol, version 11; the messages those of the Drag-and-Drop Protocol for the X Window System and of the ICCCM.
"""
import pathlib
import socket
import struct
import urllib.parse

CREATE_WINDOW, INTERN_ATOM, CHANGE_PROPERTY, SET_SELECTION_OWNER, SEND_EVENT, GET_INPUT_FOCUS = 1, 16, 18, 22, 25, 43
ERROR, REPLY, SELECTION_REQUEST, SELECTION_NOTIFY, CLIENT_MESSAGE = 0, 1, 30, 31, 33
XDND_VERSION = 5


def padded(data):
    return data + bytes(-len(data) % 4)


class X11Client:
    def __init__(self, display, deadline_s):
        self.socket = socket.socket(socket.AF_UNIX)
        self.socket.settimeout(deadline_s)
        self.socket.connect(f"/tmp/.X11-unix/X{display}")
        self.socket.sendall(struct.pack("<BxHHHHxx", ord("l"), 11, 0, 0, 0))
        status, length = struct.unpack("<BxxxxxH", self._read(8))
        setup = self._read(length * 4)
        if status != 1:
            raise OSError("the X server refused the connection")
        self.next_id = struct.unpack_from("<I", setup, 4)[0]
        vendor_length, formats = struct.unpack_from("<H", setup, 16)[0], setup[21]
        self.root = struct.unpack_from("<I", setup, 32 + len(padded(bytes(vendor_length))) + 8 * formats)[0]
        self.atoms = {}

    def close(self):
        self.socket.close()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    def _read(self, size):
        data = b""
        while len(data) < size:
            more = self.socket.recv(size - len(data))
            if not more:
                raise OSError("the X server closed the connection")
            data += more
        return data

    def _request(self, opcode, detail, body):
        self.socket.sendall(struct.pack("<BBH", opcode, detail, 1 + len(body) // 4) + body)

    def _next(self):
        """The next event, reply or error."""
        packet = self._read(32)
        if packet[0] == REPLY:
            packet += self._read(4 * struct.unpack_from("<I", packet, 4)[0])
        if packet[0] == ERROR:
            raise OSError(f"X error {packet[1]} in answer to request {packet[10]}")
        return packet

    def atom(self, name):
        if name not in self.atoms:
            self._request(INTERN_ATOM, 0, struct.pack("<Hxx", len(name)) + padded(name.encode()))
            packet = self._next()
            while packet[0] != REPLY:
                packet = self._next()
            self.atoms[name] = struct.unpack_from("<I", packet, 8)[0]
        return self.atoms[name]

    def _sync(self):
        """Returns once the server has done all that was asked."""
        self._request(GET_INPUT_FOCUS, 0, b"")
        while self._next()[0] != REPLY:
            pass

    def _send_event(self, window, event):
        self._request(SEND_EVENT, 0, struct.pack("<II", window, 0) + event)

    def _message(self, window, kind, *values):
        event = struct.pack("<BBxxII5I", CLIENT_MESSAGE, 32, window, self.atom(kind), *values, *[0] * (5 - len(values)))
        self._send_event(window, event)

    def _wait_for(self, kind):
        """The values of the next client message of that kind; answers whoever asks for the dropped files."""
        while True:
            packet = self._next()
            if packet[0] & 0x7F == SELECTION_REQUEST:
                self._give_files(packet)
            elif packet[0] & 0x7F == CLIENT_MESSAGE and struct.unpack_from("<I", packet, 8)[0] == self.atom(kind):
                return struct.unpack_from("<5I", packet, 12)

    def _give_files(self, request):
        time, _owner, requestor, selection, target, where = struct.unpack_from("<6I", request, 4)
        if target != self.atom("text/uri-list"):
            raise OSError("the window asked for something else than a list of files")
        data = self.files.encode()
        self._request(CHANGE_PROPERTY, 0,
                      struct.pack("<IIIBxxxI", requestor, where, target, 8, len(data)) + padded(data))
        answer = struct.pack("<BxxxIIIII8x", SELECTION_NOTIFY, time, requestor, selection, target, where)
        self._send_event(requestor, answer)

    def ask_to_close(self, window):
        self._message(window, "WM_PROTOCOLS", self.atom("WM_DELETE_WINDOW"), 0)
        self._sync()

    def drop(self, paths, window, x, y):
        """Lets go of files over a window, at a place of the root window; returns once it has taken them."""
        self.files = "".join(f"file://{urllib.parse.quote(str(pathlib.Path(p).absolute()))}\r\n" for p in paths)
        source, self.next_id = self.next_id, self.next_id + 1
        self._request(CREATE_WINDOW, 0, struct.pack("<IIhhHHHHII", source, self.root, 0, 0, 1, 1, 0, 0, 0, 0))
        self._request(SET_SELECTION_OWNER, 0, struct.pack("<III", source, self.atom("XdndSelection"), 0))
        self._message(window, "XdndEnter", source, XDND_VERSION << 24, self.atom("text/uri-list"))
        self._message(window, "XdndPosition", source, 0, x << 16 | y, 0, self.atom("XdndActionCopy"))
        if not self._wait_for("XdndStatus")[1] & 1:
            raise OSError("the window does not take the files")
        self._message(window, "XdndDrop", source, 0, 0)
        # GLFW tells how many bytes it took here, where a yes is bit 0.
        if not self._wait_for("XdndFinished")[1]:
            raise OSError("the window did not take the files")
